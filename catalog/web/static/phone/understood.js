// What was understood, each thing a chip that can be struck out; what was not; what was answered.
import { answer, answers, strike } from "./asked.js";
import { el } from "./dom.js";
import { words } from "./words.js";

function chip(one) {
  const struck = one.kind === "struck";
  return el("li", {},
    el("button", { type: "button", class: `chip ${one.kind}`, "aria-pressed": String(!struck), onclick: () => strike(one) },
      el("span", {}, one.label),
      one.note && one.kind !== "looks" && el("small", {}, one.note),
      el("i", { "aria-hidden": "true" }, struck ? "+" : "×"),
      el("span", { class: "vh" }, struck ? words.takeBack : words.strike),
    ),
  );
}

function told([question, given]) {
  return el("li", {},
    el("button", { type: "button", class: "chip", onclick: () => answer(question, null) },
      el("span", {}, given === "cannot_tell" ? `${question.replaceAll("_", " ")}: ${words.cannotTell}` : given),
      el("i", { "aria-hidden": "true" }, "×"),
      el("span", { class: "vh" }, words.strike),
    ),
  );
}

export function understood(view) {
  const chips = [...view.understood.map(chip), ...view.struck.map(chip), ...answers().filter(([, given]) => given === "cannot_tell").map(told)];
  if (!chips.length && !view.unread.length && !view.masked) return null;
  return el("section", { class: "understood", "aria-labelledby": "h-understood" },
    el("h2", { id: "h-understood" }, words.understood),
    chips.length ? el("ul", {}, chips) : el("p", {}, words.nothing),
    view.unread.length > 0 && el("p", { class: "unread" }, el("b", {}, `${words.unread}: `), view.unread.map((word) => `“${word}”`).join(", ")),
    view.masked > 0 && el("p", { class: "unread" }, words.masked),
  );
}
