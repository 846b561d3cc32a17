// A kept brief was recalled or corrected: said over whatever is open, and read before anything else.
import { el } from "./dom.js";
import { words } from "./report_words.js";

export const interrupt = (entry) => {
  const { recalled } = entry.standing;
  const panel = el("dialog", { class: "doubt-news", "aria-labelledby": "brief-news" },
    el("h2", { id: "brief-news" }, recalled ? words.interruptRecalled : words.interruptCorrected),
    el("p", {}, `${entry.id}, ${entry.title}. ${recalled ? words.recalled : words.corrected}.`),
    recalled && el("p", {}, recalled),
    el("button", { class: "button main", type: "button", onclick: () => panel.close() }, words.understood), " ",
    el("a", { href: `/b/${entry.token}` }, words.loadAgain));
  panel.addEventListener("close", () => panel.remove());
  document.body.append(panel);
  panel.showModal();
};
