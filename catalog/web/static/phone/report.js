// "Different on the vehicle": which fact, what was seen, a photo if there is one; sent now or when there is signal.
import * as db from "./database.js";
import { clear, el } from "./dom.js";
import * as keep from "./keep.js";
import * as outbox from "./outbox.js";
import { shrunk } from "./photo.js";
import { vehicle as opened } from "./record_engine.js";
import { words } from "./report_words.js";
import { list } from "./sent.js";
import { tell, title } from "./shell.js";

const LONGEST = 1000;

// show(container, {code}) -> leave(). code: "QPW-TF3", or with the fact: "QPW-TF3?path=ports[a].place".
export async function show(container, { code: asked }) {
  const [code, query = ""] = asked.split("?");
  const vehicle = await opened(code);
  const meta = await keep.meta(code);
  title(words.title);
  if (meta.withdrawn) throw new db.Trouble(...words.gone);
  const draft = { path: "", words: "", ...(await kept(code)) };
  const path = new URLSearchParams(query).get("path") ?? draft.path;
  let photo = null;

  const fact = el("select", { id: "fact", name: "path" },
    el("option", { value: "" }, words.whole), groups(vehicle.facts()));
  fact.value = path;
  const seen = el("textarea", { id: "seen", name: "words", rows: 5, maxlength: LONGEST, required: true, "aria-describedby": "seen-hint", autocomplete: "off" });
  seen.value = draft.words;
  const file = el("input", { id: "photo", type: "file", accept: "image/*", "aria-describedby": "photo-hint" });
  const shown = el("div", { class: "photo-shown" });
  const said = el("div", { class: "said", role: "alert" });
  const button = el("button", { class: "button main wide", type: "submit" }, words.send);
  const mine = el("div", {});

  const trouble = (...lines) => clear(said, el("p", { class: "banner" }, el("b", {}, lines[0]), " ", lines.slice(1).join(" ")));
  const keepDraft = () => db.put("settings", `report ${code}`, { path: fact.value, words: seen.value }).catch(() => {});
  const withoutPhoto = () => {
    photo = null;
    file.value = "";
    clear(shown);
  };
  const chosen = async () => {
    clear(said);
    if (!file.files.length) return withoutPhoto();
    try {
      photo = await shrunk(file.files[0]);
    } catch (error) {
      withoutPhoto();
      return trouble(error.words ?? words.photoUnread[0], error.cure ?? words.photoUnread[1]);
    }
    const { canvas } = photo;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", words.photoAlt(canvas.width, canvas.height));
    clear(shown, canvas, el("button", { class: "button", type: "button", onclick: withoutPhoto }, words.photoGone));
  };
  const submit = async (event) => {
    event?.preventDefault();
    const text = seen.value.trim();
    if (!text) {
      trouble(...words.empty);
      return seen.focus();
    }
    button.disabled = true;
    try {
      await outbox.send("report", { code, path: fact.value, revision: meta.revision, words: text }, photo?.bytes ?? null);
      seen.value = "";
      withoutPhoto();
      await db.remove("settings", `report ${code}`).catch(() => {});
      clear(said);
      await paint();
      mine.querySelector("h2")?.focus();
    } catch (error) {
      if (error.kind !== "full") trouble(error.words ?? String(error), error.cure ?? "");
      else if (photo) askWithout();
      else trouble(words.fullAll);
    } finally {
      button.disabled = false;
    }
  };
  const askWithout = () => clear(said,
    el("div", { class: "banner" }, el("p", {}, words.full),
      el("div", { class: "answers two" },
        el("button", { class: "button", type: "button", onclick: () => { withoutPhoto(); submit(); } }, words.fullYes),
        el("button", { class: "button", type: "button", onclick: () => clear(said) }, words.fullNo))));
  const paint = async () => {
    const all = (await outbox.sent()).filter((entry) => entry.body.code === code);
    const before = mine.textContent;
    clear(mine, all.length ? await list(all) : null);
    if (before && before !== mine.textContent) tell(mine.querySelector(".state")?.textContent ?? "");
  };

  fact.addEventListener("change", keepDraft);
  seen.addEventListener("input", keepDraft);
  file.addEventListener("change", chosen);
  outbox.changes.addEventListener("change", paint);
  clear(container,
    el("div", { class: "report-page" },
      el("h1", {}, words.title),
      el("p", { class: "in" }, el("b", {}, meta.title), ` ${meta.subtitle ?? ""}`),
      el("p", { class: "in quiet" }, `${words.had} edition ${meta.edition.number}, revision ${meta.seq} (${meta.revision.slice(0, 12)}). ${words.about}`),
      el("form", { class: "report-form", novalidate: true, onsubmit: submit },
        el("label", { for: "fact" }, words.which), fact,
        el("label", { for: "seen" }, words.seen), el("p", { id: "seen-hint", class: "quiet" }, words.seenHint), seen,
        el("label", { for: "photo" }, words.photo), el("p", { id: "photo-hint", class: "quiet" }, words.photoHint), file, shown,
        said, button),
      mine,
      el("p", { class: "in" }, el("a", { class: "button", href: "#/sent" }, words.more))));
  await paint();
  outbox.begin();
  return () => outbox.changes.removeEventListener("change", paint);
}

const kept = async (code) => (await db.get("settings", `report ${code}`).catch(() => null)) ?? {};

// Every fact the record holds or is silent on, by section, with what it says of it now.
const groups = ({ groups: all }) =>
  all.filter(({ facts }) => facts.length).map((one) =>
    el("optgroup", { label: one.label }, one.facts.map((each) =>
      el("option", { value: each.path }, [each.item, each.label].filter(Boolean).join(", "), ": ", says(each)))));

const says = ({ sides, state_words: state }) => {
  const text = sides.map((side) => [side.state, side.text].filter(Boolean).join(" ")).join(" or ");
  return (text || state).slice(0, 60);
};
