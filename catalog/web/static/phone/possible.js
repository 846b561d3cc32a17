// The possible vehicles on one scale of ten calls, and "not in this catalogue" on the same. No row is tinted.
import { boxes } from "./boxes.js";
import { el } from "./dom.js";
import { words } from "./words.js";

function vehicle(one, sure) {
  return el("a", { class: "vehicle", href: `#/record/${one.code}` },
    el("b", {}, one.title),
    sure,
    el("small", {}, [one.subtitle, one.frequency].filter(Boolean).join(", ")),
    one.differs && el("small", { class: "differs" }, one.differs),
  );
}

const sure = (share) => el("span", { class: "sure" }, el("b", {}, share.word), `, ${share.frequency}`);

function row(each) {
  const alone = each.vehicles.length === 1;
  return el("li", { class: "row" },
    each.headline && el("p", { class: "apart" }, el("b", {}, each.headline), each.more && ` ${each.more}`),
    !alone && el("p", {}, sure(each)),
    each.vehicles.map((one) => vehicle(one, alone && sure(each))),
    each.less && el("p", { class: "quiet" }, each.less),
    each.advice && el("p", { class: "quiet" }, each.advice),
    boxes(each.boxes),
  );
}

function unlisted(view) {
  return el("li", { class: "row unlisted" },
    el("a", { class: "vehicle", href: "#/any" },
      el("b", {}, view.unlisted.title), sure(view.unlisted), el("small", {}, view.any_title, ", ", view.any_words)),
    boxes(view.unlisted.boxes, "dots"),
  );
}

// The section; every: whether all rows were asked for. more: called to ask for them.
export function possible(view, every, more) {
  if (!view.rows.length) return el("p", { class: "message" }, view.message);
  return el("section", { class: "possible", "aria-labelledby": "h-possible" },
    el("h2", { id: "h-possible", tabindex: "-1" }, words.possible, el("small", {}, `${words.rates}: ${view.state}`)),
    view.warnings.map((warning) => el("p", { class: "mind" }, warning)),
    el("ul", { class: "rows" },
      view.rows.map(row),
      unlisted(view),
      view.others && el("li", { class: "row others" },
        el("p", {}, view.others.title, ", ", el("span", {}, view.others.frequency)),
        view.others.boxes.length > 0 && boxes(view.others.boxes, "rest"),
      ),
    ),
    view.others && !every && el("button", { class: "button wide", type: "button", onclick: more }, words.all),
    el("p", { class: "foot" }, words.likely, every && ` ${view.rests}.`),
  );
}

// One line of it, for the place above the bar: the likeliest, and how sure.
export function first(view) {
  if (!view?.rows.length) return null;
  const [top] = view.rows;
  const others = top.vehicles.length - 1;
  const names = top.vehicles[0].title + (others ? words.orAlike(others) : "");
  return el("button", { class: "peek", type: "button" }, el("b", {}, names), el("span", {}, `${top.word}, ${top.frequency}`));
}
