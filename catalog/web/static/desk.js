// The dispatcher's desk: the search page, and with it the calls that are open, their vehicles and their briefs.
import { briefs } from "./brief.js";
import { chips } from "./chips.js";
import { hang } from "./hang.js";
import { incidents, nextLetter, said } from "./incidents.js";
import { keys } from "./keys.js";
import { live } from "./live.js";
import { outcomes } from "./outcome.js";
import { settling } from "./settling.js";
import { clock, tabs } from "./tabs.js";

const form = document.getElementById("line");
const head = document.querySelector("[data-calls]");
const words = JSON.parse(head.dataset.words);
const status = document.querySelector('[data-part="status"]');
const places = { calls: head, vehicles: document.querySelector("[data-vehicles]") };
const number = form.elements.incident;
document.body.classList.add("kept");

const store = incidents(document.body.dataset.account);
const page = live(form, () => hang(form), { asked: keep, placed });
const brief = briefs(form, store, words, { pairs: page.pairs, drawn: draw });
keys(form, page, {
  F3: other,
  F4: brief.go,
  F10: close,
  "Control+ArrowDown": () => go(store.vehicleBy(1)),
  "Control+ArrowUp": () => go(store.vehicleBy(-1)),
  "Control+Shift+ArrowDown": () => go(store.callBy(1)),
  "Control+Shift+ArrowUp": () => go(store.callBy(-1)),
});
chips(form, page.amended);
settling(form);
outcomes();
clock(document.querySelector("[data-clock]"));

// What stands in the form belongs to the vehicle in view.
function keep(pairs) {
  const before = said(store.vehicle());
  store.vehicle().fields = pairs;
  store.save();
  if (before !== said(store.vehicle())) draw();
}

function placed() {
  const title = document.querySelector("[data-tab-title]")?.dataset.tabTitle ?? "";
  document.body.classList.remove("between");
  if (store.vehicle().title !== title) {
    store.vehicle().title = title;
    store.save();
    draw();
  }
  brief.compare();
}

function draw() {
  const letter = store.here().current;
  for (const plate of document.querySelectorAll("[data-plate], [data-letter]")) plate.textContent = letter;
  form.elements.letter.value = letter;
  if (document.activeElement !== number) number.value = store.here().number;
  tabs(places, store, words, { vehicle: (to) => go(store.toVehicle(to)), call: (to) => go(store.toCall(to)) });
}

// Another vehicle or call comes into view. Nothing of the one before may be taken for it meanwhile.
function go(moved) {
  if (!moved) return;
  document.body.classList.add("between");
  draw();
  brief.show();
  page.restore(store.vehicle().fields);
  form.elements.said.focus();
}

// What was said of the other vehicle goes to the next letter's line; here it stays as it is, and does not rank.
function other() {
  const heard = [...document.querySelectorAll('[data-part="mirror"] .u.other')].map((one) => one.textContent.trim());
  const letter = nextLetter(store.here());
  if (!heard.length || !letter) {
    status.textContent = heard.length ? words.last : words.nothing_other;
    return;
  }
  const fields = [["said", heard.join(", ")]];
  store.toVehicle(letter);
  store.vehicle().fields = fields;
  store.save();
  go(true);
  status.textContent = words.moved.replace("{letter}", letter);
}

let closing = 0;
function close() {
  if (Date.now() - closing > 5000) {
    closing = Date.now();
    document.querySelector("[data-desk-said]").textContent = words.close;
    return;
  }
  closing = 0;
  document.querySelector("[data-desk-said]").textContent = "";
  store.close();
  go(true);
}

document.querySelector("[data-close]")?.addEventListener("click", close);
number?.addEventListener("input", () => {
  store.here().number = number.value.trim();
  store.save();
});

draw();
brief.show();
// A page that came with an answer (posted without a script, or brought back) shows it; otherwise what was kept does.
if (said(store.vehicle()) && !form.elements.said.value) go(true);
else if (form.elements.said.value) keep(page.pairs());
brief.look();
