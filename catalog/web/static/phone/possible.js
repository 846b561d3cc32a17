// The possible vehicles on one scale of ten calls, and "not in this catalogue" on the same. No row is tinted.
import { boxes } from "./boxes.js";
import { el } from "./dom.js";
import { words } from "./words.js";

const FIRST = 3;

function vehicle(one, alone) {
  return el("a", { class: "vehicle", href: `#/record/${one.code}` },
    el("b", {}, one.title),
    el("small", {}, one.subtitle),
    one.differs && el("small", { class: "differs" }, one.differs),
    !alone && one.frequency && el("small", { class: "alone" }, one.frequency),
  );
}

function row(each) {
  return el("li", { class: "row" },
    each.vehicles.map((one) => vehicle(one, each.vehicles.length === 1)),
    el("p", { class: "sure" }, el("b", {}, each.word), ` ${each.frequency}`),
    boxes(each.boxes),
    each.headline && el("p", { class: "apart" }, el("b", {}, each.headline), each.more && ` ${each.more}`),
    each.less && el("p", { class: "quiet" }, each.less),
    each.advice && el("p", { class: "quiet" }, each.advice),
  );
}

function unlisted(share) {
  return el("li", { class: "row unlisted" },
    el("a", { class: "vehicle", href: "#/any" }, el("b", {}, share.title), el("small", {}, words.anyVehicle)),
    el("p", { class: "sure" }, el("b", {}, share.word), ` ${share.frequency}`),
    boxes(share.boxes, "dots"),
  );
}

// The section; every: all rows. more: called when the others are asked for.
export function possible(view, { every = false, more = () => {} } = {}) {
  if (!view.rows.length) return el("p", { class: "message" }, view.message);
  const shown = every ? view.rows : view.rows.slice(0, FIRST);
  return el("section", { class: "possible", "aria-labelledby": "h-possible" },
    el("h2", { id: "h-possible", tabindex: "-1" }, words.possible, el("small", {}, `${words.rates}: ${view.rates}`)),
    view.warnings.map((warning) => el("p", { class: "mind" }, warning)),
    el("ul", { class: "rows" },
      shown.map(row),
      unlisted(view.unlisted),
      view.others && el("li", { class: "row others" },
        el("p", {}, view.others.title, " ", el("span", {}, view.others.frequency)),
        view.others.boxes.length > 0 && boxes(view.others.boxes, "rest"),
      ),
    ),
    view.rows.length > FIRST && !every && el("button", { class: "button wide", type: "button", onclick: more }, words.all),
    el("p", { class: "foot" }, words.likely),
  );
}

// One line of it, for the place above the bar: the likeliest, and how sure.
export function first(view) {
  if (!view?.rows.length) return null;
  const [top] = view.rows;
  const names = top.vehicles.map((one) => one.title).join(" or ");
  return el("button", { class: "peek", type: "button" }, el("b", {}, names), el("span", {}, `${top.word}, ${top.frequency}`));
}
