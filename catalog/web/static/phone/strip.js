// The vehicle as one walks round it, in the posture somebody chooses; the same in words; each number to its step.
import { drawing, el } from "./dom.js";
import { say } from "./held.js";
import { words } from "./record_words.js";
import { disc } from "./shapes.js";
import { sheet } from "./sheet.js";

const FIELDS = { left_down: "left_down", right_down: "right_down", roof: "on_roof" };

// The posture as the scene says it; "" while nobody said.
export function lies({ scene }) {
  const found = Object.entries(FIELDS).find(([, field]) => scene[field] === "yes");
  if (found) return found[0];
  return Object.values(FIELDS).every((field) => scene[field] === "no") ? "wheels" : "";
}

// What somebody picks is said of the scene: steps, numbers and the port line follow it.
const pick = (posture) =>
  say(Object.fromEntries(Object.entries(FIELDS).map(([key, field]) => [field, !posture ? "unknown" : key === posture ? "yes" : "no"])));

export function strip(vehicle, of, view) {
  const posture = lies(of);
  if (!vehicle.known) return el("section", { class: "walk" }, el("h2", {}, words.walk), el("p", { class: "in" }, words.noDrawing));
  const drawn = vehicle.drawn(of, posture);
  const picture = drawing(drawn.svg);
  const steps = view.phases.flatMap((phase) => phase.steps);
  for (const one of picture.querySelectorAll("[data-number]")) {
    const step = steps.find(({ number }) => number === Number(one.dataset.number));
    if (step) one.addEventListener("click", () => sheet(step, vehicle.code));
  }
  const numbers = [...new Set([...picture.querySelectorAll("[data-number]")].map((one) => Number(one.dataset.number)))];
  const struck = drawn.out.map((one) => one.number);
  const listed = steps.filter(({ number }) => numbers.includes(number) || struck.includes(number));
  return el("section", { class: "walk", "aria-labelledby": "h-walk" },
    el("div", { class: "walk-head" },
      el("h2", { id: "h-walk" }, words.walk),
      el("label", { class: "posture" }, el("span", {}, words.posture),
        el("select", { onchange: (event) => pick(event.target.value) },
          Object.entries(words.postures).map(([value, name]) => el("option", { value, selected: value === posture }, name))))),
    el("div", { class: "picture" }, picture),
    el("ul", { class: "legend" }, drawn.legend.map(([kind, said]) => el("li", {}, drawing(vehicle.swatch(kind)), said))),
    el("ul", { class: "numbers" }, listed.map((step) =>
      el("li", {}, el("button", { class: "number", type: "button", onclick: () => sheet(step, vehicle.code) },
        disc(step.number, struck.includes(step.number) ? "struck" : step.shape),
        el("span", {}, step.do, struck.includes(step.number) && el("small", {}, ` ${words.outOfReach}`)))))),
    el("p", { class: "mind" }, words.blank),
    closeUps(vehicle),
    el("details", { class: "fold", open: true }, el("summary", {}, el("h3", {}, words.twin)),
      el("ol", { class: "twin" }, drawn.twin.map((line) => el("li", {}, line)))));
}

const closeUps = (vehicle) => {
  const made = vehicle.closeUps();
  return made.length > 0 && el("section", { class: "close-ups" },
    el("h3", {}, words.closeUp),
    made.map(({ svg, title, twin }) =>
      el("figure", {}, drawing(svg), el("figcaption", {}, el("b", {}, title), el("ul", {}, twin.map((line) => el("li", {}, line)))))));
};
