// The records that look like this one: first what tells them apart, then what is done otherwise.
import { el } from "./dom.js";
import { words } from "./record_words.js";

const versus = (head, [here, there]) =>
  el("div", { class: "versus" }, el("dt", {}, head),
    el("dd", {}, el("span", { class: "which-one" }, words.this), " ", here),
    el("dd", {}, el("span", { class: "which-one" }, words.that), " ", there));

const upper = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

const other = (one) =>
  el("section", { class: "other" },
    el("a", { class: "to", href: `#/record/${one.code}` }, el("h3", {}, one.title), el("small", {}, one.subtitle)),
    one.headline && el("p", { class: "mind" }, one.headline),
    one.sights.length > 0 && [el("h4", {}, words.tells), el("dl", {}, one.sights.map((sight) => versus(sight.ask, sight.values)))],
    one.advice && el("p", { class: "mind" }, one.advice),
    one.differs.length > 0 && el("details", { class: "fold" },
      el("summary", {}, el("h4", {}, `${words.differs} (${one.differs.length})`)),
      el("dl", {}, one.differs.map((fact) => versus(upper(fact.label), fact.values)))));

export function alike(vehicle, cautions) {
  const { none, others } = vehicle.alike();
  return el("section", { class: "alike", "aria-labelledby": "h-alike" },
    el("h2", { id: "h-alike" }, words.alike),
    others.length ? others.map(other) : el("p", { class: "in" }, none),
    el("p", { class: "in" }, cautions));
}
