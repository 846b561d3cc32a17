// A row of the shared scale of ten (web/marks.html says the same for the server's pages).
const SVG = "http://www.w3.org/2000/svg";

function rect(attributes) {
  const made = document.createElementNS(SVG, "rect");
  for (const [name, value] of Object.entries({ y: 0, height: 12, ...attributes })) made.setAttribute(name, value);
  return made;
}

// run: { start, length } in halves. fill: "on", "dots" or "rest".
export function boxes(run, fill = "on") {
  const made = document.createElementNS(SVG, "svg");
  for (const [name, value] of Object.entries({ class: "boxes", viewBox: "0 0 218 12", preserveAspectRatio: "none", "aria-hidden": "true" })) {
    made.setAttribute(name, value);
  }
  for (let half = run.start; half < run.start + run.length; half += 1) {
    const x = Math.floor(half / 2) * 22 + (half % 2) * 10;
    made.append(rect({ x, width: 10, ...(fill === "dots" ? { fill: "url(#fill-dots)" } : { class: fill }) }));
  }
  for (let box = 0; box < 10; box += 1) made.append(rect({ class: "edge", x: box * 22, width: 20 }));
  return made;
}
