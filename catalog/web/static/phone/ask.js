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

function named(ask) {
  const field = el("input", { id: "named", type: "text", maxlength: 60, autocomplete: "off", spellcheck: "false", "aria-label": words.name, placeholder: words.name });
  const take = (event) => {
    event.preventDefault();
    if (field.value.trim()) answer(ask.id, field.value.trim());
  };
  return el("form", { class: "named", onsubmit: take }, field, el("button", { class: "button main", type: "submit" }, words.take));
}

export function ask(view) {
  const put = view.ask;
  if (!put) return null;
  return el("section", { class: "ask", "aria-labelledby": "h-ask" },
    el("h2", { id: "h-ask" }, words.askNext),
    where(),
    put.ask && [
      el("p", { class: "question", id: "asked" }, put.ask),
      put.frame && el("p", { class: "quiet" }, put.frame),
      put.options.length ? null : named(put),
      el("div", { class: "cells two", role: "group", "aria-labelledby": "asked" },
        put.options.map((option) =>
          el("button", { class: "cell answer", type: "button", onclick: () => answer(put.id, option.id) },
            el("span", {}, option.words), option.points_to && el("small", {}, option.points_to))),
        el("button", { class: "cell answer", type: "button", onclick: () => answer(put.id, put.cannot_tell) }, words.cannotTell),
      ),
    ],
    put.said && el("p", {}, put.said),
    put.offer && el("p", {}, put.offer, " ", el("a", { class: "button wide", href: "#/any" }, words.any)),
    el("p", { class: "quiet" }, caller() === "crew" ? words.atItAdvice : words.notAtItAdvice),
  );
}
