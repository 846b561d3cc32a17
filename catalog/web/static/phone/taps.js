// Search by taps: cells the server laid out, each a cue. A cell tapped again is taken back.
import { asked, cannotTell, tap, tapped, untold } from "./asked.js";
import { words } from "./words.js";

const TABS = { body: ["body"], port: ["port_place", "port_cover"], badge: ["name"], more: ["connector", "door_mechanism", "selector", "colour"] };
const all = (selector, from = document) => [...from.querySelectorAll(selector)];
const tabs = () => all("#bar [data-tab]"); // a record's page has tabs of its own

// Once, when the search is first shown.
export function taps() {
  const panels = document.getElementById("taps");
  dispatchEvent(new Event("phone:taps"));
  for (const cell of all("[data-tap][aria-pressed=true]", panels)) take(cell);
  panels.addEventListener("click", ({ target }) => {
    const cell = target.closest("[data-tap]");
    if (cell) take(cell);
  });
  panels.addEventListener("change", ({ target }) => {
    if (target.name === "stand") turn(target.value);
  });
  panels.querySelector("[data-badge]").addEventListener("submit", badge);
  asked.addEventListener("change", marked);
  marked();
}

function take(cell) {
  if (cell.value) tap(cell.dataset.tap, cell.value, cell.innerText.replace(/\s+/g, " ").trim());
  else cannotTell(cell.dataset.tap);
}

// panel: the one to open, "" for none.
export function open(panel) {
  for (const each of all("[data-panel]")) each.hidden = each.dataset.panel !== panel;
  for (const tab of tabs()) {
    if (tab.dataset.tab === panel) tab.setAttribute("aria-current", "page");
    else tab.removeAttribute("aria-current");
  }
}

// Seen from the nose all is the other way round; the order read out follows what is seen.
function turn(stand) {
  const round = document.querySelector("[data-round]");
  if (round.dataset.round === stand) return;
  round.dataset.round = stand;
  round.append(...all("[data-tap]", round).reverse());
}

function badge(event) {
  event.preventDefault();
  const form = event.target;
  const read = form.elements.badge.value.trim();
  if (!read) return form.elements.badge.focus();
  const value = form.elements.part.value.replace("{}", read);
  if (tapped("name")?.value !== value) tap("name", value, read);
}

function marked() {
  for (const cell of all("[data-tap]")) {
    const on = cell.value ? tapped(cell.dataset.tap)?.value === cell.value : untold(cell.dataset.tap);
    cell.setAttribute("aria-pressed", String(on));
  }
  for (const tab of tabs()) {
    const said = TABS[tab.dataset.tab].map((name) => tapped(name)?.label ?? (untold(name) ? words.cannotTell : "")).filter(Boolean);
    tab.querySelector("small").textContent = said.join(", ");
  }
  const taken = tapped("name");
  const form = document.querySelector("[data-badge]");
  if (!taken && form.dataset.taken) form.reset();
  form.dataset.taken = taken ? "1" : "";
}
