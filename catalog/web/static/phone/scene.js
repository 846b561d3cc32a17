// The scene bar: four cells, the rest folded; a tray of three answers under the bar. A cell is never tapped round and
// round: it opens the tray, and the tray answers. The port line stands below on every screen of the record.
import { el } from "./dom.js";
import { say } from "./held.js";
import { words } from "./record_words.js";

let open = ""; // the cell whose tray is open

const cell = (one) =>
  el("button", { class: "cell", type: "button", "data-key": one.key, "data-answer": one.said, "aria-expanded": String(open === one.key), "aria-controls": "tray",
    onclick: () => {
      open = open === one.key ? "" : one.key;
      dispatchEvent(new CustomEvent("phone:scene", { detail: { focus: open ? `#tray button` : `[data-key="${one.key}"]` } }));
    } },
    el("span", { class: "ask" }, one.label), " ",
    el("span", { class: "answer" }, one.answer));

function tray(one) {
  const answer = (value, label) =>
    el("button", { class: "button", type: "button", "aria-pressed": String(one.said === value),
      onclick: () => {
        open = "";
        say({ [one.key]: value });
        dispatchEvent(new CustomEvent("phone:scene", { detail: { focus: `[data-key="${one.key}"]` } }));
      } }, label);
  return el("div", { class: "tray", id: "tray", role: "group", "aria-labelledby": "tray-ask" },
    el("p", { id: "tray-ask" }, one.ask),
    el("div", { class: "answers" }, answer("yes", words.yes), answer("no", words.no), answer("unknown", words.dontKnow)));
}

export function sceneBar(view) {
  const asked = view.cells.find((one) => one.key === open);
  return el("section", { class: "scene", "aria-label": "Scene" },
    el("div", { class: "cells-row" }, view.cells.map(cell)),
    asked && tray(asked));
}

// Every other field of the scene, with its tray in place. It lives among the pages that scroll, not over them.
export function otherScene(view) {
  return el("section", { class: "scene-more" },
    el("div", { class: "cells-more" }, view.others.map((one) =>
      one.key === open ? [cell(one), tray(one)] : cell(one))));
}

export const shut = () => { open = ""; };

export const portLine = (view) =>
  el("p", { class: "port-line", "data-port": view.port.kind },
    view.port.kind === "leave" ? el("b", {}, view.port.text) : [el("b", {}, words.port), " ", view.port.text]);
