// The briefs that were opened on this phone: edition, age, and what became of them as far as it is known.
import { clear, el } from "./dom.js";
import { age, ago } from "./keep_words.js";
import { words } from "./report_words.js";
import { title } from "./shell.js";
import * as store from "./brief_store.js";
import "./standing_by.js"; // says so over the page where one was recalled since

export async function show(container) {
  title(words.briefsTitle);
  const rows = el("div", { class: "sent" });
  const paint = async () => {
    const all = await store.all();
    clear(rows, el("h1", {}, words.briefsTitle), all.length ? el("ul", {}, all.map((one) => row(one, paint))) : el("p", { class: "in" }, words.noBriefs));
  };
  clear(container, el("div", { class: "report-page" }, rows));
  await paint();
  let open = true;
  store.askAll().then(() => open && paint());
  return () => { open = false; };
}

const row = (one, paint) => {
  const { recalled, corrected, newer } = one.standing;
  const state = recalled ? words.recalled : corrected.length ? words.corrected : newer ? words.doubtful : "";
  return el("li", { "data-state": recalled ? "recalled" : "kept" },
    el("p", { class: "state" }, el("b", {}, `${one.kind} ${one.letter}: ${one.title}`)),
    state ? el("p", {}, el("b", {}, state), recalled && ` ${recalled}`) : null,
    el("p", {}, `Fixed to edition ${one.edition}, ${one.published.slice(0, 10)} (${age(Date.parse(one.published), Date.now())}); `
      + `brief ${one.id}, composed ${ago(Date.parse(one.composed), Date.now())}.`),
    state ? null : el("p", { class: "quiet" }, words.asked(ago(one.asked, Date.now()))),
    el("div", { class: "acts-row" },
      el("a", { class: "button", href: `/b/${one.token}` }, words.openIt),
      el("button", { class: "button", type: "button", onclick: async () => { await store.forget(one.token); await paint(); } }, words.forget)));
};
