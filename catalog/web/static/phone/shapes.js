// The small drawings of the record's pages, as web/marks.html has them: discs, state marks, fills. One ink; the word
// stands beside every one of them.
const NS = "http://www.w3.org/2000/svg";

function svg(className, box, ...shapes) {
  const made = document.createElementNS(NS, "svg");
  made.setAttribute("class", className);
  made.setAttribute("viewBox", box);
  made.setAttribute("aria-hidden", "true");
  made.append(...shapes);
  return made;
}

function shape(tag, attributes, text) {
  const made = document.createElementNS(NS, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (text !== undefined) made.textContent = text;
  return made;
}

export function disc(number, kind) {
  const made = svg(`disc ${kind}`, "0 0 24 24",
    shape("circle", { class: "solid", cx: 12, cy: 12, r: 11 }),
    shape("text", { x: 12, y: 16.4, "text-anchor": "middle" }, number),
  );
  if (kind === "struck") made.append(shape("path", { class: "slash", d: "M3 21 21 3" }));
  return made;
}

const MARKS = {
  stated: () => [shape("rect", { class: "solid", x: 2, y: 2, width: 12, height: 12 })],
  not_fitted: () => [
    shape("rect", { class: "edge", x: 3, y: 3, width: 10, height: 10, "stroke-width": 2 }),
    shape("path", { class: "edge", d: "M0 8h16", "stroke-width": 2 }),
  ],
  may_be_fitted: () => [
    shape("rect", { class: "edge", x: 3, y: 3, width: 10, height: 10, "stroke-width": 2 }),
    shape("rect", { class: "solid", x: 2, y: 8, width: 12, height: 6 }),
  ],
  disputed: () => [
    shape("rect", { class: "edge", x: 7, y: 7, width: 8, height: 8, "stroke-width": 2 }),
    shape("rect", { class: "solid", x: 0, y: 0, width: 9, height: 9 }),
  ],
  not_stated: () => [
    shape("rect", { class: "edge", x: 1, y: 1, width: 14, height: 14, "stroke-width": 1.5, "stroke-dasharray": "2 2" }),
    shape("text", { x: 8, y: 12, "text-anchor": "middle" }, "?"),
  ],
};

// state: of a fact.
export const mark = (state) => svg("mark", "0 0 16 16", ...(MARKS[state] ?? MARKS.not_stated)());

// kind: hatch, lattice, dots; its pattern stands in the page.
export const fill = (kind) =>
  svg("fill", "0 0 24 24",
    shape("rect", { class: "edge", x: 0.75, y: 0.75, width: 22.5, height: 22.5, "stroke-width": 1.5, fill: `url(#fill-${kind})` }));

export const back = () =>
  svg("back-mark", "0 0 16 16", shape("path", { fill: "none", stroke: "currentColor", "stroke-width": 2.5, d: "M10 2 4 8l6 6" }));

// What became of a step, in its box.
export const ticked = (state) =>
  state === "done"
    ? svg("tick-mark", "0 0 16 16", shape("path", { fill: "none", stroke: "currentColor", "stroke-width": 3, d: "M2.5 8.5 6.5 12.5 13.5 3.5" }))
    : svg("tick-mark", "0 0 16 16", shape("path", { stroke: "currentColor", "stroke-width": 3.5, d: "M2 8h12" }));
