// The small drawings of the record's pages, as web/marks.html has them: discs, state marks, fills. One ink; the word
// stands beside every one of them.
import { el, svg } from "./dom.js";

const small = (className, box, ...shapes) => svg("svg", { class: className, viewBox: box, "aria-hidden": "true" }, ...shapes);

export function disc(number, kind) {
  const made = small(`disc ${kind}`, "0 0 24 24",
    svg("circle", { class: "solid", cx: 12, cy: 12, r: 11 }),
    svg("text", { x: 12, y: 16.4, "text-anchor": "middle" }, number),
  );
  if (kind === "struck") made.append(svg("path", { class: "slash", d: "M3 21 21 3" }));
  return made;
}

const MARKS = {
  stated: () => [svg("rect", { class: "solid", x: 2, y: 2, width: 12, height: 12 })],
  not_fitted: () => [
    svg("rect", { class: "edge", x: 3, y: 3, width: 10, height: 10, "stroke-width": 2 }),
    svg("path", { class: "edge", d: "M0 8h16", "stroke-width": 2 }),
  ],
  may_be_fitted: () => [
    svg("rect", { class: "edge", x: 3, y: 3, width: 10, height: 10, "stroke-width": 2 }),
    svg("rect", { class: "solid", x: 2, y: 8, width: 12, height: 6 }),
  ],
  disputed: () => [
    svg("rect", { class: "edge", x: 7, y: 7, width: 8, height: 8, "stroke-width": 2 }),
    svg("rect", { class: "solid", x: 0, y: 0, width: 9, height: 9 }),
  ],
  not_stated: () => [
    svg("rect", { class: "edge", x: 1, y: 1, width: 14, height: 14, "stroke-width": 1.5, "stroke-dasharray": "2 2" }),
    svg("text", { x: 8, y: 12, "text-anchor": "middle" }, "?"),
  ],
};

// state: of a fact.
export const mark = (state) => small("mark", "0 0 16 16", ...(MARKS[state] ?? MARKS.not_stated)());

// What is stated stands plain; anything else with the mark of its state.
export const lineOf = ({ state, text }, className) =>
  state === "stated" ? el("span", { class: className }, text) : el("span", { class: `${className} marked` }, mark(state), el("span", {}, text));

// kind: hatch, lattice, dots; its pattern stands in the page.
export const fill = (kind) =>
  small("fill", "0 0 24 24",
    svg("rect", { class: "edge", x: 0.75, y: 0.75, width: 22.5, height: 22.5, "stroke-width": 1.5, fill: `url(#fill-${kind})` }));

export const back = () =>
  small("back-mark", "0 0 16 16", svg("path", { fill: "none", stroke: "currentColor", "stroke-width": 2.5, d: "M10 2 4 8l6 6" }));

// What became of a step, in its box.
export const ticked = (state) =>
  state === "done"
    ? small("tick-mark", "0 0 16 16", svg("path", { fill: "none", stroke: "currentColor", "stroke-width": 3, d: "M2.5 8.5 6.5 12.5 13.5 3.5" }))
    : small("tick-mark", "0 0 16 16", svg("path", { stroke: "currentColor", "stroke-width": 3.5, d: "M2 8h12" }));
