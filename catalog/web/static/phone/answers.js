// The four answers, all in view without scrolling where there is room for one row each. Rows that do not fit are left
// to the steps below, the least needed first; nothing is left out of the steps.
import { el } from "./dom.js";
import { words } from "./record_words.js";
import { disc, fill, mark } from "./shapes.js";
import { tickBox } from "./ticks.js";

const said = (line) =>
  line.state === "stated"
    ? el("span", { class: "detail" }, line.text)
    : el("span", { class: "detail marked" }, mark(line.state), el("span", {}, line.text));

function row(one, code) {
  const [main, ...rest] = one.lines;
  const inner = [
    one.number ? disc(one.number, one.shape) : one.fill ? fill(one.fill) : el("span", { class: "no-disc" }),
    el("span", { class: "words" },
      one.title && el("b", { class: "do" }, one.number ? el("span", { class: "vh" }, `Step ${one.number}: `) : null, one.title),
      one.fill ? el("span", { class: "places" }, one.lines.map((line, at) => [at ? "; " : "", line.state === "stated" ? line.text : said(line)]))
        : [main && said(main), rest.length > 0 && el("span", { class: "rest" }, rest.map((line) => [said(line), " "]))]),
  ];
  return el("li", { class: `row ${one.shape} ${one.ticked?.state ?? ""}`, "data-rank": one.rank, "data-step": one.key },
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
    el("ul", { class: "rows" }, one.rows.map((each) => row(each, code))));
}

export const answers = (view, code) =>
  el("div", { class: "four", id: "four" }, view.answers.map((one) => answer(one, code)));

// Take rows out, the least needed first, until the four answers end above the bar; the first row of each stays, and
// then the small print of the rows. Where even that is too much (200 % text) everything is shown and the page scrolls.
export function fit(four, bar) {
  const rows = [...four.querySelectorAll(".row")];
  const room = () => four.getBoundingClientRect().bottom + scrollY <= innerHeight - bar.getBoundingClientRect().height;
  const all = () => {
    four.dataset.tight = "";
    for (const one of rows) one.hidden = false;
  };
  all();
  if (!rows.length || room()) return;
  const levels = [
    () => hide(rows, 2),
    () => { four.dataset.tight = "1"; },
    () => hide(rows, 1),
    () => { four.dataset.tight = "2"; },
    () => { four.dataset.tight = "3"; },
  ];
  for (const level of levels) {
    level();
    if (room()) return grow(four, rows, room);
  }
  all();
}

const hide = (rows, from) => {
  for (const one of rows) if (Number(one.dataset.rank) >= from) one.hidden = true;
};

// Rows that fit after all come back, the most needed first.
function grow(four, rows, room) {
  for (const one of rows.filter((each) => each.hidden).sort((a, b) => a.dataset.rank - b.dataset.rank)) {
    one.hidden = false;
    if (!room()) one.hidden = true;
  }
}
