// More: every fact with its state, sources and reading; the rest of the scene; sources; edition and cautions.
import { el } from "./dom.js";
import { clear } from "./held.js";
import { words } from "./record_words.js";
import { otherScene } from "./scene.js";
import { mark } from "./shapes.js";

const side = (one) =>
  el("li", {},
    one.state && el("b", { class: "state" }, `${one.state}: `),
    el("span", { class: "value" }, one.text), one.depends && `: ${one.depends}`,
    one.sources.length > 0 && el("small", { class: "src" }, ` ${one.sources.join("; ")}`));

function fact(one, code) {
  return el("div", { class: `fact ${one.state}` },
    el("dt", {}, mark(one.state), " ", one.label),
    el("dd", {},
      one.sides.length ? el("ul", {}, one.sides.map(side)) : el("b", { class: "state" }, one.state_words),
      one.reading && el("p", { class: "reading" }, one.reading),
      el("a", { class: "different", href: `#/report/${code}?path=${encodeURIComponent(one.path)}`, "aria-label": `${words.different}: ${one.label}` }, words.different)));
}

function group(one, code) {
  const items = [];
  for (const each of one.facts) {
    if (items.at(-1)?.item !== each.item) items.push({ item: each.item, facts: [] });
    items.at(-1).facts.push(each);
  }
  // Hundreds of facts are made when their section is opened.
  const inner = el("div", {});
  const fold = el("details", { class: "fold group", "data-group": one.key, ontoggle: () => {
    if (!fold.open || inner.childNodes.length) return;
    inner.append(...items.flatMap(({ item, facts }) => [
      item && el("h4", {}, item), el("dl", {}, facts.map((each) => fact(each, code)))].filter(Boolean)),
      ...one.empty.map((text) => el("p", { class: "empty" }, mark("not_stated"), " ", text)));
  } }, el("summary", {}, el("h3", {}, one.label)), inner);
  return fold;
}

export function more(vehicle, view) {
  const all = vehicle.known ? vehicle.facts() : null;
  return el("div", { class: "more-page" },
    el("h2", {}, words.more),
    el("ul", { class: "ways" },
      el("li", {}, el("a", { href: `#${vehicle.code === "any" ? "/any" : `/record/${vehicle.code}`}/slip` }, el("b", {}, words.slip))),
      vehicle.known && el("li", {}, el("a", { href: `#/report/${vehicle.code}` }, el("b", {}, words.different))),
      vehicle.known && el("li", {}, el("a", { href: "#/any" }, el("b", {}, words.any)))),
    el("details", { class: "fold", "data-group": "scene" }, el("summary", {}, el("h3", {}, words.otherScene)), otherScene(view)),
    all && [
      el("h2", {}, words.factsTitle),
      el("details", { class: "fold" }, el("summary", {}, el("h3", {}, words.vehicle)),
        el("dl", {}, all.identity.map(([label, text]) => el("div", { class: "fact" }, el("dt", {}, label), el("dd", {}, text))))),
      all.groups.map((one) => group(one, vehicle.code)),
      all.notes.length > 0 && el("details", { class: "fold" }, el("summary", {}, el("h3", {}, words.notesTitle)),
        all.notes.map(([lang, text, src]) => el("p", { class: "in", lang }, text, el("small", { class: "src" }, ` ${src.join("; ")}`)))),
      el("details", { class: "fold" }, el("summary", {}, el("h3", {}, words.sourcesTitle)),
        el("ul", { class: "sources" }, all.sources.map(([name, title]) => el("li", {}, el("b", {}, name), " ", title)))),
    ],
    el("p", { class: "in edition-line" }, view.edition, view.code && `, record ${view.code}`, vehicle.revision ? `, revision ${vehicle.revision}` : ""),
    el("ul", { class: "cautions-list in" }, view.cautions.map((line) => el("li", {}, line))),
    newIncident());
}

// Clearing is asked for twice, in place.
function newIncident() {
  const place = el("div", { class: "new-incident" });
  const asked = () => place.replaceChildren(
    el("p", { id: "clear-ask" }, words.clearAsk),
    el("div", { class: "answers two", role: "group", "aria-labelledby": "clear-ask" },
      el("button", { class: "button", type: "button", onclick: begin }, words.clearNo),
      el("button", { class: "button", type: "button", onclick: clear }, words.clearYes)));
  const begin = () => place.replaceChildren(el("button", { class: "button wide", type: "button", onclick: () => { asked(); place.querySelector("button").focus(); } }, words.newIncident));
  begin();
  return place;
}
