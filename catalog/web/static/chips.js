// What may be done with each thing understood, in its own list: changed, struck out, left as read. The
// lists are plain form fields, so the page's state is what they hold; here they get keys, and stay open
// to nothing but a deliberate choice (a closed list would change at any letter that is typed).
// In a cell of the scene a key answers, as it does a question: which option of its list that is.
const ANSWERS = { 1: 1, 2: 2, 0: 3 };
const OPENS = new Set(["ArrowDown", "ArrowUp", "PageDown", "PageUp", "Home", "End"]);

const all = () => [...document.querySelectorAll("select[data-chip]")];

// changed: called after a choice, with what a screen reader is to be told of it.
export function chips(form, changed) {
  const field = form.elements.said;

  // The list that was opened last and what it held; whether the page saw Escape go down.
  let opened = {};
  let escaping = false;

  function choose(list, index) {
    if (index < 0 || list.selectedIndex === index) return;
    list.selectedIndex = index;
    list.dispatchEvent(new Event("change", { bubbles: true }));
  }

  function open(list) {
    opened = { chip: list.dataset.chip, index: list.selectedIndex };
    try {
      list.showPicker();
    } catch {
      // Without a way to open it from here the browser's own keys (Space, Alt+Down) still do.
    }
  }

  function step(list, by) {
    const lists = all().filter((one) => "sceneCell" in one.dataset === "sceneCell" in list.dataset);
    lists[Math.max(0, Math.min(lists.length - 1, lists.indexOf(list) + by))].focus();
  }

  document.addEventListener("change", (event) => {
    const list = event.target;
    if (!list.matches?.("select[data-chip]")) return;
    changed(`${list.ariaLabel}: ${list.selectedOptions[0].textContent}.`);
  });

  document.addEventListener("pointerdown", ({ target }) => {
    if (target.matches?.("select[data-chip]")) opened = { chip: target.dataset.chip, index: target.selectedIndex };
  });

  // Some browsers take what was only moved over when an open list is left with Escape; here that changes nothing.
  // The list itself sees that Escape go down, the page only sees it come up.
  document.addEventListener("keyup", ({ key, target }) => {
    const left = key === "Escape" && !escaping && target.dataset?.chip === opened.chip;
    if (key === "Escape") escaping = false;
    if (left) choose(target, opened.index);
  });

  // Before the page's own keys, which must not see what is meant for a list.
  document.addEventListener(
    "keydown",
    (event) => {
      const list = event.target;
      if (event.key === "Escape") escaping = true;
      if (!list.matches?.("select[data-chip]") || event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.key === "ArrowLeft" || event.key === "ArrowRight") step(list, event.key === "ArrowLeft" ? -1 : 1);
      else if (event.key === "Delete" || event.key === "Backspace") choose(list, [...list.options].findIndex((option) => "strike" in option.dataset));
      else if ("sceneCell" in list.dataset && event.key in ANSWERS) choose(list, ANSWERS[event.key]);
      else if (event.key === "Escape") field.focus();
      else if (OPENS.has(event.key) || event.key.length === 1 || event.key === "Enter") open(list);
      else return;
      event.preventDefault();
      event.stopPropagation();
    },
    true,
  );
}

// Which list has the focus, and giving it back to the list of the same thing once the page was redrawn.
export function held() {
  return document.activeElement?.dataset?.chip;
}

export function hold(chip) {
  if (chip !== undefined && held() !== chip) all().find((list) => list.dataset.chip === chip)?.focus();
}
