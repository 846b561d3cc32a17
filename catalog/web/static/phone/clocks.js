// Waits as clocks: they run from the tick, so they survive a reload, a call and a flat screen. What goes on meanwhile
// stands beside; when the time is over nothing is said to be off.
import { el } from "./dom.js";
import { clock as time } from "./held.js";
import { words } from "./record_words.js";
import { tell } from "./shell.js";

const two = (number) => String(number).padStart(2, "0");
const minutes = (seconds) => `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
const told = new Set();

// How a clock stands at a moment: {over, left, run}, in seconds. Without a stated wait there is nothing to count down.
export function standing(clock, now) {
  const run = Math.max(0, Math.floor((now - clock.since) / 1000));
  return { run, left: Math.max(0, clock.seconds - run), over: clock.seconds === 0 || run >= clock.seconds };
}

export function clockOf(clock) {
  const made = el("div", { class: "clock", "data-clock": clock.key, "data-since": clock.since, "data-seconds": clock.seconds },
    el("p", { class: "what" }, el("b", { class: "left", role: "timer" }), " ", el("span", {}, clock.title), ` (${words.since} ${time(new Date(clock.since))})`),
    el("p", { class: "says" }, `${words.goesOn} ${clock.meanwhile}`),
    el("p", { class: "over", hidden: true }, clock.over));
  turn(made);
  return made;
}

function turn(node) {
  const clock = { key: node.dataset.clock, since: Number(node.dataset.since), seconds: Number(node.dataset.seconds) };
  const { over, left, run } = standing(clock, Date.now());
  node.classList.toggle("ended", over);
  node.querySelector(".left").textContent = over ? (clock.seconds ? words.over : minutes(run)) : minutes(left);
  const says = node.querySelector(".says");
  if (!says) return;
  says.hidden = over && clock.seconds > 0;
  node.querySelector(".over").hidden = !over;
}

// Every clock of the page, each second; an end is said once.
export function run() {
  const timer = setInterval(() => {
    for (const node of document.querySelectorAll("[data-clock]")) {
      if (!node.matches(".clock")) {
        turn(node);
        continue;
      }
      const before = node.classList.contains("ended");
      turn(node);
      const key = `${node.dataset.clock} ${node.dataset.since}`;
      if (!before && node.classList.contains("ended") && !told.has(key)) {
        told.add(key);
        tell(`${node.querySelector(".what").textContent} ${node.querySelector(".over").textContent}`);
      }
    }
  }, 1000);
  return () => clearInterval(timer);
}

// Those that run, over the answers: those still to end first, the rest in the steps. Each leads to its step.
const SHOWN = 2;

export function clocks(view) {
  const now = Date.now();
  const order = [...view.clocks].sort((a, b) => standing(a, now).over - standing(b, now).over || standing(a, now).left - standing(b, now).left);
  return order.length > 0 && el("section", { class: "running", "aria-label": words.waits }, order.slice(0, SHOWN).map((clock) => {
    const made = el("a", { href: `#step-${clock.key}`, "data-to": clock.key === "restraints" ? "restraint_wait" : clock.key, "data-clock": clock.key, "data-since": clock.since, "data-seconds": clock.seconds },
      el("b", { class: "left" }), el("span", { class: "title" }, clock.seconds ? `${clock.title}. ${words.goesOn} ${clock.meanwhile}` : `${clock.title}. ${clock.over}`));
    turn(made);
    return made;
  }));
}
