// The four answers, all in view without scrolling where there is room for one row each. Rows that do not fit are left
// to the steps below, the least needed first; nothing is left out of the steps.
import { el } from "./dom.js";
import { words } from "./record_words.js";
import { disc, fill, lineOf } from "./shapes.js";
import { tickBox } from "./ticks.js";

const said = (line) => lineOf(line, "detail");

function row(one, code) {
  const [main, ...rest] = one.lines;
  const inner = [
    one.number ? disc(one.number, one.shape) : one.fill ? fill(one.fill) : el("span", { class: "no-disc" }),
    el("span", { class: "words" },
      one.title && el("b", { class: "do" }, one.number ? el("span", { class: "vh" }, `Step ${one.number}: `) : null, one.title),
      one.fill ? el("span", { class: "places" }, one.lines.map((line, at) => [at ? "; " : "", line.state === "stated" ? line.text : said(line)]))
        : [main && said(main), rest.length > 0 && el("span", { class: "rest" }, rest.map((line) => [said(line), " "]))]),
  ];
  return el("li", { class: `act ${one.shape} ${one.ticked?.state ?? ""}`, "data-rank": one.rank, "data-step": one.key },
    one.key ? el("a", { class: "to", href: `#step-${one.key}`, "data-to": one.key }, inner) : el("div", { class: "to" }, inner),
    one.ticks && tickBox(one, code));
}

function answer(one, code) {
  const left = one.steps - one.rows.length;
  return el("section", { class: "answer", "data-answer-of": one.key, "aria-labelledby": `h-${one.key}` },
    el("div", { class: "band" },
      el("h2", { id: `h-${one.key}` }, one.title),
      one.aside && el("span", { class: "aside" }, one.aside),
      one.at && el("a", { class: "more", href: `#step-${one.at}`, "data-to": one.at, "aria-label": `${one.title}: more` }, left > 0 && one.key !== "no_cut" ? `${left} more` : words.more.toLowerCase())),
    el("ul", { class: "acts" }, one.rows.map((each) => row(each, code))));
}

export const answers = (view, code) =>
  el("div", { class: "four", id: "four" }, view.answers.map((one) => answer(one, code)));

// As much as there is room for above the bar: one row of each answer and the switching off, then more rows, the most
// needed first, then all their words. Where that does not fit (200 % text) everything is shown and the page scrolls.
export function fit(four, bar) {
  const rows = [...four.querySelectorAll(".act")].sort((a, b) => turn(a) - turn(b));
  const room = () => four.getBoundingClientRect().bottom + scrollY <= innerHeight - bar.getBoundingClientRect().height;
  const loosen = (row, level) => {
    const before = row.dataset.tight;
    row.dataset.tight = level;
    if (!room()) row.dataset.tight = before;
  };
  const set = (level, shown) => {
    for (const row of rows) {
      row.dataset.tight = level;
      row.hidden = !shown(row);
    }
  };
  set("", () => true);
  if (!rows.length || room()) return;
  const first = (row) => row.dataset.rank === "0";
  set("3", (row) => first(row) || turn(row) < 5);
  if (!room()) set("3", first);
  if (!room()) return set("", () => true);
  const shown = () => rows.filter((row) => !row.hidden);
  // The wait stands in the small print of the way to cut off.
  loosen(rows[0], "1");
  for (const row of shown()) if (row !== rows[0] || row.dataset.tight === "3") loosen(row, "2");
  for (const row of shown()) if (row.dataset.tight === "2") loosen(row, "1");
  for (const row of rows.filter((each) => each.hidden)) {
    row.hidden = false;
    if (room()) loosen(row, "2");
    else row.hidden = true;
  }
  for (const row of shown()) loosen(row, "");
}

// What is needed most, of whichever answer: its first rows, switching off among them, then the second ones.
const ORDER = ["cutoff", "motion", "no_cut", "doors"];
function turn(row) {
  const of = row.closest("[data-answer-of]").dataset.answerOf;
  const rank = Number(row.dataset.rank);
  return of === "motion" && rank === 1 ? 0.5 : rank * 5 + ORDER.indexOf(of);
}
