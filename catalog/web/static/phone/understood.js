// What was understood, on one line; unfolded, each thing can be struck out. What was not read is never folded away.
import { answer, strike, untoldAsks } from "./asked.js";
import { el } from "./dom.js";
import { words } from "./words.js";

let open = false;

function chip(one) {
  const struck = one.kind === "struck";
  return el("li", {},
    el("button", { type: "button", class: `chip ${one.kind}`, "aria-pressed": String(!struck), onclick: () => strike(one) },
      el("span", { class: "thing" }, `${one.heading} ${one.value}`.trim()),
      el("i", { "aria-hidden": "true" }, struck ? "+" : "×"),
      el("span", { class: "vh" }, struck ? words.takeBack : words.strike),
      one.note && one.kind !== "looks" && el("small", {}, one.note),
    ),
  );
}

function untold([id, put]) {
  return el("li", {},
    el("button", { type: "button", class: "chip", onclick: () => answer(id, null) },
      el("span", { class: "thing" }, words.cannotTell),
      el("i", { "aria-hidden": "true" }, "×"),
      el("span", { class: "vh" }, words.strike),
      el("small", {}, put),
    ),
  );
}

export function understood(view) {
  const chips = [...view.chips.map(chip), ...view.struck.map(chip), ...untoldAsks().map(untold)];
  if (!chips.length && !view.unread.length && !view.masked) return null;
  const brief = view.chips.map((one) => one.value).join(" · ") || words.nothing;
  return el("section", { class: "understood", "aria-label": words.understood },
    chips.length > 0 && el("details", { open, ontoggle: (event) => { open = event.target.open; } },
      el("summary", {}, el("b", {}, `${words.understood}: `), el("span", {}, brief)),
      el("ul", {}, chips),
    ),
    view.unread.length > 0 && el("p", { class: "unread" }, el("b", {}, `${words.unread}: `), view.unread.map((word) => `“${word}”`).join(", ")),
    view.masked > 0 && el("p", { class: "unread" }, words.masked),
  );
}
