// A row of the shared scale of ten (web/marks.html says the same for the server's pages).
import { svg } from "./dom.js";

const rect = (attributes) => svg("rect", { y: 0, height: 12, ...attributes });

// run: { start, length } in halves. fill: "on", "dots" or "rest".
export function boxes(run, fill = "on") {
  const made = svg("svg", { class: "boxes", viewBox: "0 0 218 12", preserveAspectRatio: "none", "aria-hidden": "true" });
  for (let half = run.start; half < run.start + run.length; half += 1) {
    const x = Math.floor(half / 2) * 22 + (half % 2) * 10;
    made.append(rect({ x, width: 10, ...(fill === "dots" ? { fill: "url(#fill-dots)" } : { class: fill }) }));
  }
  for (let box = 0; box < 10; box += 1) made.append(rect({ class: "edge", x: box * 22, width: 20 }));
  return made;
}
