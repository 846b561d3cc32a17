// Ask next: one question, answers of 64 px, "can't tell" among them.
import { answer, caller, standAt } from "./asked.js";
import { el } from "./dom.js";
import { words } from "./words.js";

const PLACES = [[null, words.notAtIt], ["crew", words.atIt]];

function where() {
  return el("div", { class: "stand", role: "group", "aria-label": words.where },
    PLACES.map(([value, name]) =>
      el("button", { type: "button", "aria-pressed": String(caller() === value), onclick: () => standAt(value) }, name)),
  );
}

function named(put) {
  const field = el("input", { id: "named", type: "text", maxlength: 60, autocomplete: "off", spellcheck: "false", "aria-label": words.name, placeholder: words.name });
  const take = (event) => {
    event.preventDefault();
    if (field.value.trim()) answer(put.id, field.value.trim(), put.ask);
    else field.focus();
  };
  return el("form", { class: "named", onsubmit: take }, field, el("button", { class: "button main", type: "submit" }, words.take));
}

export function ask(view) {
  const put = view.ask;
  if (!put) return null;
  return el("section", { class: "ask", "aria-labelledby": "h-ask" },
    el("h2", { id: "h-ask" }, words.askNext),
    put.ask && [
      el("p", { class: "question", id: "asked" }, put.ask),
      put.frame && el("p", { class: "quiet" }, put.frame),
      put.named && named(put),
      el("div", { class: "cells two", role: "group", "aria-labelledby": "asked" },
        put.answers.map((each) =>
          el("button", { class: "cell answer", type: "button", onclick: () => answer(put.id, each.id, put.ask) },
            el("span", {}, each.words), each.points_to && el("small", {}, each.points_to))),
      ),
    ],
    put.said && el("p", {}, put.said),
    put.offer && el("p", {}, put.offer),
    put.offer && el("a", { class: "button wide", href: "#/any" }, words.any),
    where(),
    el("p", { class: "quiet" }, caller() === "crew" ? words.atItAdvice : words.notAtItAdvice),
  );
}
