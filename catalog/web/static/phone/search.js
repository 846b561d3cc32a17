// The search: words and taps are one question, answered after each change.
import { ask } from "./ask.js";
import { asked, begin, nothing, question, say, text } from "./asked.js";
import { dangerLine } from "./danger.js";
import { clear } from "./dom.js";
import { find, isOnPhone } from "./finding.js";
import { heard } from "./held.js";
import { first, possible } from "./possible.js";
import { here } from "./router.js";
import { tell } from "./shell.js";
import { open, taps } from "./taps.js";
import { understood } from "./understood.js";
import { words } from "./words.js";

// Typed words are sent to the server after a pause; the engine on the phone needs none.
const PAUSE = 150;
// A screen reader is told after a longer one.
const SETTLED = 900;

const field = document.getElementById("said");
const form = document.getElementById("line");
const parts = Object.fromEntries([...document.querySelectorAll("#search [data-part]")].map((part) => [part.dataset.part, part]));
const placed = new Map();
let waiting = 0;
let telling = 0;
let every = false;
let peek = null;
let made = false;

export function show(container, { panel }) {
  set();
  // Opened without a word said the shapes come first; somebody who typed sees what came of it.
  open(panel ?? (nothing() ? "body" : ""));
  hint();
  return () => peek?.remove();
}

function set() {
  if (made) return;
  made = true;
  taps();
  field.addEventListener("input", () => {
    grow();
    clearTimeout(waiting);
    waiting = setTimeout(() => say(field.value), isOnPhone() ? 0 : PAUSE);
    if (field.value) open("");
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    clearTimeout(waiting);
    say(field.value);
    field.blur();
    document.getElementById("h-possible")?.focus();
  });
  form.addEventListener("reset", () => {
    clearTimeout(waiting);
    setTimeout(() => {
      begin();
      grow();
      open("body");
      field.focus();
    });
  });
  asked.addEventListener("change", answer);
  // What was said and tapped before the script arrived.
  if (field.value) say(field.value);
  else if (!nothing()) answer();
}

// The line is as high as its words.
function grow() {
  if (field.value.includes("\n")) field.value = field.value.replace(/\s*\n\s*/g, " ");
  field.rows = 1;
  while (field.rows < 4 && field.scrollHeight > field.clientHeight + 2) field.rows += 1;
  form.querySelector("[data-clear]").hidden = nothing() && !field.value;
}

async function answer() {
  every = false;
  await answered();
}

async function answered() {
  grow();
  if (text() !== field.value.trim() && !document.activeElement?.isSameNode(field)) field.value = text();
  if (nothing()) return place(null);
  try {
    const view = await find(question({ every }));
    if (!view) return;
    parts.trouble.hidden = true;
    heard(view.scene);
    place(view);
  } catch (error) {
    console.warn(error);
    clear(parts.trouble, `${error.words ?? words.broken} ${error.cure ?? words.awayCure}`);
    parts.trouble.hidden = false;
    // What was found before may be of another vehicle than what is said now.
    place(null);
  }
}

function place(view) {
  put("understood", view && understood(view));
  put("danger", dangerLine(view));
  put("possible", view && possible(view, every, () => { every = true; answered(); }));
  put("ask", view && ask(view));
  peek?.remove();
  peek = view && first(view);
  if (peek) {
    peek.addEventListener("click", () => {
      const heading = document.getElementById("h-possible");
      heading.scrollIntoView({ block: "start" });
      heading.focus({ preventScroll: true });
    });
    document.getElementById("bar").before(peek);
    hint();
  }
  clearTimeout(telling);
  if (view) telling = setTimeout(() => tell(view.status), SETTLED);
}

// What did not change stays where it is, with the focus that is on it; a change keeps the focus at its place.
function put(name, node) {
  const html = node?.outerHTML ?? "";
  if (placed.get(name) === html) return;
  placed.set(name, html);
  const part = parts[name];
  const targets = () => [...part.querySelectorAll("button, a, input")];
  const at = part.contains(document.activeElement) ? targets().indexOf(document.activeElement) : -1;
  clear(part, node);
  if (at >= 0) (targets()[at] ?? targets().at(-1) ?? field).focus({ preventScroll: true });
}

// The one line above the bar is there while the list itself is out of sight.
const watcher = new IntersectionObserver((seen) => {
  if (peek) peek.hidden = seen.at(-1).isIntersecting;
});

function hint() {
  watcher.disconnect();
  const list = parts.possible.querySelector(".rows");
  if (list) watcher.observe(list);
  if (peek && !peek.isConnected && here().match(/^\/(taps.*)?$/)) document.getElementById("bar").before(peek);
}
