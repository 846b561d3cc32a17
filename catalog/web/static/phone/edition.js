// The edition on this phone: one line of it on every page, what is wrong with it, what is doubted; and the search that
// runs on it. Loaded after the first paint, since the engine is what takes longest.
import { clear, el } from "./dom.js";
import { onPhone } from "./finding.js";
import * as keep from "./keep.js";
import { age, ago, bytes, says } from "./keep_words.js";
import { plainly } from "./plainly.js";
import { words } from "./words.js";

const line = document.querySelector("[data-edition]");
const trouble = document.getElementById("trouble");
const DAY = 86400000; // milliseconds
const doubted = document.getElementById("doubted");

export function begin() {
  for (const name of ["status", "progress", "changed", "newer"]) keep.events.addEventListener(name, shown);
  keep.events.addEventListener("trouble", ({ detail }) => troubled(detail));
  keep.events.addEventListener("doubt", ({ detail }) => interrupt(detail.doubts));
  setInterval(shown, 60000);
  shown();
  arrive();
}

// Until the edition and its engine are here the server answers; after that nothing that is said leaves the phone.
function arrive() {
  keep.ready().then(
    () => {
      onPhone(search);
      untroubled();
      shown();
      // The first search makes what all others use: better now than at the first key.
      setTimeout(() => search({ text: "van" }).catch(console.warn));
    },
    () => shown(),
  );
}

async function search(question) {
  const { engine, field, site } = await keep.ready();
  const { modules: m, py } = engine;
  // Places in a text are counted in characters, as on the server.
  const said = { ...question, text: py.plainText(question.text ?? ""), driving_side: site.driving_side };
  const asked = m["catalog.device.phone.asked"].asked_from(py.fromJson(said));
  return plainly(py)(m["catalog.device.phone.search"].answer(field, asked));
}

function shown() {
  const { edition, asked, newer, here, progress, kept, signal } = keep.status();
  const now = Date.now();
  const told = [];
  if (edition) {
    told.push(`edition ${edition.number}, ${age(Date.parse(edition.published_at), now)}`);
    if (progress === null && newer === null) {
      told.push(asked === null ? says.never : now - asked > DAY || !signal ? says.stale(ago(asked, now)) : words.noneNewer(ago(asked, now)));
    }
  }
  if (progress !== null) told.push(says.fetching(Math.floor(progress * 100)));
  else if (!edition) told.push(words.comes);
  if (edition && !kept) told.push(says.only);
  if (newer !== null && !here) told.push(says.coming(newer));
  clear(line, told.join("; "),
    newer !== null && here && el("button", { type: "button", class: "button", onclick: () => keep.takeNewer() }, says.here(newer)));
}

// What the menu says of it: lines of words.
export async function inFull() {
  const { edition, asked } = keep.status();
  const now = Date.now();
  const published = edition && Date.parse(edition.published_at);
  const { usage } = (await navigator.storage?.estimate?.().catch(() => ({}))) ?? {};
  return [
    edition ? says.edition(edition.number, day(published), age(published, now)) : words.comes,
    edition && `${edition.records} ${words.records}; ${edition.reason}`,
    edition && (asked === null ? says.never : says.newest(ago(asked, now))),
    usage && `${words.kept} ${bytes(usage)}`,
  ].filter(Boolean);
}

const day = (time) => new Date(time).toLocaleDateString("en-GB", { day: "numeric", month: "short", year: "numeric" });

// What is wrong stands until it is not so any more, or somebody has read it.
function troubled({ message, cure, kind }) {
  clear(trouble,
    el("p", {}, el("b", {}, message), ` ${cure}`),
    kind === "signedOut" && el("a", { class: "button", href: "/sign-in?to=/phone" }, words.signIn),
    !keep.status().edition && el("button", { type: "button", class: "button", onclick: () => { untroubled(); keep.again().then(arrive, shown); } }, words.again),
    el("button", { type: "button", class: "button", onclick: untroubled }, words.read),
  );
  trouble.hidden = false;
  shown();
}

function untroubled() {
  trouble.hidden = true;
  clear(trouble);
}

// A doubt interrupts whatever is on the page, and waits for a tap.
function interrupt(doubts) {
  clear(doubted,
    el("h2", { id: "h-doubted" }, words.doubted),
    el("ul", {}, doubts.map((one) =>
      el("li", {},
        el("b", {}, `${one.title ?? one.code}: ${one.withdrawn ? words.doNotUse : one.label}`),
        ` ${one.reason}`))),
    el("p", {}, words.doubtedMeans),
    el("form", { method: "dialog" }, el("button", { class: "button main" }, words.understoodIt)),
  );
  if (!doubted.open) doubted.showModal();
}
