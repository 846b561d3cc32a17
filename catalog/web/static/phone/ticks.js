// A step's box: done or cannot, with its time, and back again. The box opens two answers in the row; no row is ticked
// by a slip of the glove.
import { el } from "./dom.js";
import { tick } from "./held.js";
import { words } from "./record_words.js";
import { ticked } from "./shapes.js";
import { tell } from "./shell.js";

export function tickBox(step, code) {
  const of = step.ticked;
  const label = `${words.tick} ${step.number}: ${of ? `${words.said[of.state]}, ${of.said}` : words.notYet}`;
  return el("button", { class: `tick ${of?.state ?? ""}`, type: "button", "aria-label": label, "data-tick": step.key,
    onclick: () => ask(step, code) },
    el("span", { class: "box" }, of && ticked(of.state)),
    of && el("span", { class: "at" }, of.said));
}

// Three answers over the bar: within the thumb's reach, 64 px each.
function ask(step, code) {
  const dialog = el("dialog", { class: "asks", "aria-labelledby": "asks-what" });
  const back = document.activeElement;
  const choose = (state) => async () => {
    dialog.close();
    await tick(code, step.key, state);
    tell(`${step.number}: ${state ? words.said[state] : words.undo}`);
    document.querySelector(`[data-tick="${CSS.escape(step.key)}"]`)?.focus({ preventScroll: true });
  };
  const answer = (state, name, marked) =>
    el("button", { class: "button", type: "button", "aria-pressed": String(step.ticked?.state === state), onclick: choose(state) }, marked, name);
  dialog.append(
    el("p", { id: "asks-what" }, `${step.number}. ${step.do ?? step.title}`),
    el("div", { class: "answers" },
      answer("done", words.done, ticked("done")),
      answer("cannot", words.cannot, ticked("cannot")),
      step.ticked
        ? el("button", { class: "button", type: "button", onclick: choose(null) }, words.undo)
        : el("button", { class: "button", type: "button", onclick: () => dialog.close() }, words.close)),
  );
  dialog.addEventListener("close", () => {
    dialog.remove();
    if (back?.isConnected) back.focus({ preventScroll: true });
  });
  dialog.addEventListener("click", (event) => { if (event.target === dialog) dialog.close(); });
  document.body.append(dialog);
  dialog.showModal();
}
