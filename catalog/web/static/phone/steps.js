// All steps by phase: what, where, how, what if not; a box each, waits running in place.
import { clockOf } from "./clocks.js";
import { el } from "./dom.js";
import { words } from "./record_words.js";
import { disc, lineOf } from "./shapes.js";
import { tickBox } from "./ticks.js";

export function oneStep(one, code, clocks) {
  const running = clocks.filter((clock) => clock.key === (one.id === "restraint_wait" ? "restraints" : one.key));
  return el("li", { class: `step ${one.shape} ${one.ticked?.state ?? ""}`, id: `step-${one.key}`, "data-step-of": one.key },
    el("div", { class: "head" },
      disc(one.number, one.shape),
      el("h4", { tabindex: "-1" }, el("span", { class: "vh" }, `Step ${one.number}: `), one.do),
      tickBox(one, code)),
    running.map(clockOf),
    el("dl", { class: "parts" },
      one.only_if && el("div", { class: "only" }, el("dt", {}, words.onlyIf), el("dd", {}, `${one.only_if}.`)),
      one.first.map((text) => el("div", {}, el("dt", {}, words.first), el("dd", {}, text))),
      one.parts.map((part) => el("div", { class: part.key }, el("dt", {}, part.lead), el("dd", {}, part.lines.map((each) => [lineOf(each, "line"), " "])))),
      one.sources.length > 0 && el("div", { class: "source" }, el("dt", {}, words.source), el("dd", {}, one.sources.join("; ")))));
}

export function steps(view, code) {
  return el("section", { class: "steps", id: "steps", "aria-labelledby": "h-steps" },
    el("h2", { id: "h-steps", class: "all" }, words.allSteps),
    view.phases.map((phase) =>
      el("div", { class: "phase" },
        el("h3", { id: `h-phase-${phase.key}` }, phase.label),
        el("ol", {}, phase.steps.map((one) => oneStep(one, code, view.clocks))))));
}

// Go to a step that was tapped above.
export function goTo(key) {
  const found = document.getElementById(`step-${key}`);
  if (!found) return;
  found.scrollIntoView({ block: "start" });
  found.querySelector("h4").focus({ preventScroll: true });
}
