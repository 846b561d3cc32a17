// The hand-over slip: filled from what was ticked with its times, "cannot" too; what nobody said reads so.
import { el } from "./dom.js";
import { type } from "./held.js";
import { words } from "./record_words.js";

const line = (one) =>
  el("li", { class: `slip-line ${one.state}` },
    one.number > 0 && el("b", {}, `${one.number}. `), one.lead && el("span", { class: "lead" }, `${one.lead}: `), el("span", {}, one.text));

export function slip(vehicle, of, view) {
  return el("section", { class: "slip", "aria-labelledby": "h-slip" },
    el("h2", { id: "h-slip" }, words.slip),
    el("ul", { class: "slip-head" }, vehicle.slipHead().map((text) => el("li", {}, text))),
    vehicle.slip(of).map((section) =>
      el("section", { class: "slip-part" }, el("h3", {}, section.title), el("ul", {}, section.lines.map(line)))),
    el("details", { class: "fold typed", open: true }, el("summary", {}, el("h3", {}, words.slipTyped)),
      vehicle.slipFields().map(([key, label]) =>
        el("label", { class: "typed-field" }, el("span", {}, label),
          el("input", { type: "text", name: key, maxlength: 400, autocomplete: "off", value: of.typed[key] ?? "", onchange: (event) => type(vehicle.code, key, event.target.value.trim()) })))),
    el("button", { class: "button wide", type: "button", onclick: () => print() }, words.slipPrint),
    el("ul", { class: "cautions-list in" }, view.cautions.map((text) => el("li", {}, text))));
}
