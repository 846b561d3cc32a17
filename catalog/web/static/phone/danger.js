// Where what was said is a danger, one line says so: on the search and on a record alike.
import { el } from "./dom.js";
import { words } from "./words.js";

export const dangerLine = (view) =>
  view?.danger ? el("p", { class: "signal" }, el("span", { class: "word" }, words.danger), el("span", { class: "says" }, view.danger)) : null;
