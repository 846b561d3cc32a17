// What stands round every page: its title, the bar within the thumb's reach, what a screen reader is told.
import { clear } from "./dom.js";

const bottom = document.getElementById("bar");
const tabs = [...bottom.childNodes];
const usual = [...document.getElementById("usual-bar").content.childNodes];
const status = document.getElementById("told");
const product = document.title;

// A page's own bar in place of the usual one; without nodes the usual one. Every new page begins with the usual one.
export function bar(...nodes) {
  clear(bottom, nodes.length ? nodes : usual);
}

// The page's title, before the app's name.
export function title(text) {
  document.title = text ? `${text} - ${product}` : product;
}

// Said to a screen reader, once; the same again is said again.
export function tell(text) {
  status.textContent = status.textContent === text ? `${text} ` : text;
}

addEventListener("phone:page", ({ detail }) => {
  if (detail.name === "search") bar(...tabs);
  else bar();
  title("");
  for (const link of bottom.querySelectorAll("a")) {
    const current = link.getAttribute("href") === `#${detail.path}`;
    if (current) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
});
