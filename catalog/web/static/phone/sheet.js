// One step over the page: what its number stands for, to be read and ticked where one stands.
import { el } from "./dom.js";
import { words } from "./record_words.js";
import { oneStep } from "./steps.js";

export function sheet(step, code) {
  const dialog = el("dialog", { class: "sheet-step", "aria-label": step.do });
  const shut = () => dialog.close();
  dialog.append(el("ol", {}, oneStep(step, code, [])), el("button", { class: "button wide", type: "button", onclick: shut }, words.close));
  // Ticking opens its own question; this one makes way for it.
  dialog.querySelector(".tick").addEventListener("click", shut, { capture: true });
  dialog.addEventListener("click", (event) => { if (event.target === dialog) shut(); });
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
}
