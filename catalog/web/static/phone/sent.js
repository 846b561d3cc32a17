// Reports from this phone: each waits, has arrived, or was not taken and says why.
import * as db from "./database.js";
import { clear, el } from "./dom.js";
import { ago } from "./keep_words.js";
import * as outbox from "./outbox.js";
import { words } from "./report_words.js";
import { title } from "./shell.js";

export async function show(container) {
  title(words.sentTitle);
  const rows = el("div", {});
  const paint = async () => {
    const all = await outbox.sent();
    clear(rows, all.length ? await list(all, 1) : [el("h1", {}, words.sentTitle), el("p", { class: "in" }, words.none)]);
  };
  clear(container, el("div", { class: "report-page" }, rows));
  outbox.changes.addEventListener("change", paint);
  await paint();
  outbox.begin();
  return () => outbox.changes.removeEventListener("change", paint);
}

// The entries as a part of a page. level: of its heading.
export const list = async (entries, level = 2) => {
  const { kept } = await db.kept();
  const waits = entries.some((entry) => entry.state === "waiting");
  return el("section", { class: "sent", "aria-labelledby": "h-sent" },
    el(`h${level}`, { id: "h-sent", tabindex: "-1" }, words.sentTitle),
    waits && !kept && el("p", { class: "banner" }, words.only),
    el("ul", {}, entries.map(row)),
    waits && el("button", { class: "button wide", type: "button", onclick: () => outbox.deliver() }, words.again));
};

const row = (entry) =>
  el("li", { "data-state": entry.state },
    el("p", { class: "state" }, el("b", {}, state(entry)), ` ${ago(entry.arrived || entry.made, Date.now())}`),
    el("p", {}, entry.body.words),
    el("p", { class: "quiet" }, entry.body.code, entry.body.path && `, ${entry.body.path}`, aside(entry)),
    entry.problem && entry.state !== "arrived" && el("p", {}, entry.problem),
    entry.noPhoto && el("p", {}, `${words.noPhoto} ${entry.noPhoto}`),
    entry.state !== "waiting" && el("button", { class: "button", type: "button", onclick: () => outbox.drop(entry.id) }, words.drop));

const state = ({ state: is, signal, tried }) =>
  is === "arrived" ? words.arrived : is === "refused" ? words.refused : tried && signal !== false ? words.held : words.waiting;

const aside = (entry) => {
  if (!entry.photo) return "";
  return `, ${entry.words ? words.photoWaits : words.withPhoto}`;
};
