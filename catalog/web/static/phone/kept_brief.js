// On a brief's page: keeps it on this device until it expires, says so, and interrupts when it is recalled or corrected.
import { el } from "./dom.js";
import * as store from "./brief_store.js";
import { interrupt } from "./brief_told.js";
import { words } from "./report_words.js";

const EVERY = 20000; // milliseconds between looks
const here = document.querySelector("[data-brief]");
const copy = document.documentElement.hasAttribute("data-kept"); // this page is the kept one
const token = location.pathname.split("/")[2];

const begin = async () => {
  const { brief, title, kind, letter, edition, published, composed, until, standing } = here.dataset;
  const before = await store.one(token).catch(() => null);
  if (!copy && Date.parse(until) > Date.now()) {
    const entry = {
      token, id: brief, title, kind, letter, edition: Number(edition), published, composed,
      until: Date.parse(until), opened: before?.opened ?? Date.now(), html, standing: JSON.parse(standing), asked: Date.now(),
    };
    try {
      await store.keep(entry, files());
      await navigator.serviceWorker?.register("/worker.js").catch(() => {});
      line(words.keptUntil(at(entry.until)), true);
    } catch {
      line(words.notKept);
    }
  } else if (before) line(words.keptUntil(at(before.until)), true);
  store.changes.addEventListener("told", ({ detail }) => interrupt(detail));
  look();
};

const look = async () => {
  let wait = EVERY;
  try {
    if ((await store.one(token)) && (await store.ask(token)) === null) return;
  } catch {
    wait = EVERY * 2; // no signal: what is on the page stays
  }
  setTimeout(look, wait);
};

const line = (text, may = false) => {
  const made = el("p", { class: "note-newer kept-here", role: "status" }, text, " ");
  if (may) {
    made.append(el("button", { class: "button", type: "button", onclick: async () => {
      await store.forget(token);
      made.textContent = words.notAnyMore;
    } }, words.doNotKeep));
  }
  document.querySelector(".sheet").append(made);
};

// Everything the page is made of, modules and type among it.
const files = () => {
  const named = performance.getEntriesByType("resource").map(({ name }) => new URL(name))
    .filter(({ origin, pathname }) => origin === location.origin && pathname.startsWith("/assets/"));
  return [...new Set(named.map(({ pathname }) => pathname))];
};

const at = (time) => new Date(time).toLocaleString([], { weekday: "short", hour: "2-digit", minute: "2-digit" });

const html = `<!doctype html>${document.documentElement.outerHTML}`;
if (here) begin();
