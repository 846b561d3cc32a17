// Says that a newer edition is out, without changing the page under the reader's hands. A doubt interrupts.
// Without a script a page is as new as when it was loaded.

import { deviceId } from "./phone/device.js";

const EVERY = 15000; // milliseconds between looks
const FEWEST = 4000; // before the first look
const here = document.querySelector("[data-edition]");

if (here) {
  const known = Number(here.dataset.edition);
  const codes = new Set((here.dataset.codes || "").split(" ").filter(Boolean));
  let told = 0;
  let shown = new Set();

  // A page that names no records concerns those it leads to.
  const isHere = (code) => document.querySelector(`main [href*="/records/${CSS.escape(code)}"]`) !== null;

  const line = (text, link) => {
    const made = document.createElement("p");
    made.append(text);
    if (link) {
      const again = document.createElement("a");
      again.href = link;
      again.textContent = "Load it";
      made.append(" ", again);
    }
    return made;
  };

  const bar = () => {
    let found = document.getElementById("news");
    if (!found) {
      found = document.createElement("div");
      found.id = "news";
      found.className = "news";
      found.setAttribute("role", "status");
      document.body.append(found);
    }
    return found;
  };

  const interrupt = (doubts) => {
    const panel = document.createElement("dialog");
    panel.className = "doubt-news";
    panel.setAttribute("aria-labelledby", "doubt-news");
    const head = document.createElement("h2");
    head.id = "doubt-news";
    head.textContent = doubts.length === 1 ? "A fact on this page is doubted" : "Facts on this page are doubted";
    panel.append(head);
    for (const doubt of doubts) {
      const at = new Date(doubt.since).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
      panel.append(line(`${doubt.title}: ${doubt.label}. Do not rely on it. Doubted at ${at}: ${doubt.reason}`));
    }
    const close = document.createElement("button");
    close.type = "button";
    close.className = "button main";
    close.textContent = "Understood";
    close.addEventListener("click", () => panel.close());
    panel.addEventListener("close", () => panel.remove());
    const again = document.createElement("a");
    again.href = location.href;
    again.textContent = "Load the page again";
    panel.append(close, " ", again);
    document.body.append(panel);
    panel.showModal();
  };

  const look = async () => {
    let wait = EVERY;
    try {
      const answer = await fetch(`/api/v1/editions/newest?since=${known}&device=${await deviceId()}`, { headers: { Accept: "application/json" } });
      if (answer.ok) {
        const newest = await answer.json();
        const mine = newest.doubts.filter((doubt) => codes.has(doubt.code) || isHere(doubt.code));
        const fresh = mine.filter((doubt) => !shown.has(doubt.edition));
        if (newest.number > known && newest.number !== told) {
          told = newest.number;
          bar().replaceChildren(line(`Edition ${newest.number} is published. This page shows edition ${known}.`, location.href));
        }
        if (fresh.length) {
          shown = new Set([...shown, ...fresh.map((doubt) => doubt.edition)]);
          interrupt(fresh);
        }
      }
    } catch {
      wait = EVERY * 2; // no signal: what is on the page stays
    }
    setTimeout(look, wait);
  };
  setTimeout(look, FEWEST);
}
