// The keyboard: / goes to the line, up and down move through the possible vehicles, Enter opens the one in
// focus, Delete says it is not that one, Escape returns to the line; digits open a row unless one is typing.
// F2 goes to the question; there each answer has its key, and only there.
// more: keys of one page, by name ("F4", "Control+ArrowDown").
export function keys(form, { toggle }, more = {}) {
  const field = form.elements.said;
  const rows = () => [...document.querySelectorAll("[data-row]")];

  function move(step) {
    const all = rows();
    const here = all.indexOf(document.activeElement);
    if (step < 0 && here <= 0) return here === 0 ? field.focus() : undefined;
    all[Math.min(all.length - 1, here + step)]?.focus();
    return undefined;
  }

  const typing = () => document.activeElement === field;
  const writing = () => document.activeElement?.matches("textarea, select, input:not([type=radio], [type=checkbox])");
  const asked = () => document.activeElement?.closest("[data-ask]");

  // No name begins with the key of "can't tell".
  const unnamed = (key) => key === "0" && document.activeElement.id === "named" && !document.activeElement.value;

  function question() {
    const panel = document.querySelector("[data-ask]");
    (panel?.querySelector("#named") ?? panel)?.focus();
  }

  const acts = {
    ArrowDown: () => move(1),
    ArrowUp: () => move(-1),
    Escape: () => field.focus(),
    F2: question,
    F6: () => document.querySelector("[data-scene-cell]")?.focus(),
    F7: () => toggle("facts"),
    F8: () => toggle("why"),
    F9: () => toggle("all"),
  };

  function answer(key) {
    const button = /^[0-9a-z]$/.test(key) && document.querySelector(`[data-ask] [data-key="${key}"]`);
    button?.click?.();
    return Boolean(button);
  }

  const named = ({ ctrlKey, shiftKey, key }) => `${ctrlKey ? "Control+" : ""}${ctrlKey && shiftKey ? "Shift+" : ""}${key}`;

  document.addEventListener("keydown", (event) => {
    const own = !event.altKey && !event.metaKey && !event.isComposing && more[named(event)];
    if (own) {
      event.preventDefault();
      own();
      return;
    }
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    const radio = document.activeElement?.matches?.("input[type=radio]");
    if (event.key === "Enter" && typing()) {
      event.preventDefault();
      form.requestSubmit();
    } else if (event.key === "/" && !typing()) {
      event.preventDefault();
      field.focus();
    } else if (asked() && (!writing() || unnamed(event.key)) && answer(event.key)) {
      event.preventDefault();
    } else if (event.key === "Delete" && document.activeElement?.dataset?.row) {
      event.preventDefault();
      document.activeElement.closest(".vehicle").querySelector("[data-not]")?.click();
    } else if (/^\d$/.test(event.key) && !writing() && !asked()) {
      document.querySelector(`[data-row="${event.key}"]`)?.click();
    } else if (acts[event.key] && !(radio && event.key.startsWith("Arrow"))) {
      // Within a line that wraps, up and down still move the caret.
      if (typing() && event.key.startsWith("Arrow") && !leaves(field, event.key)) return;
      event.preventDefault();
      acts[event.key]();
    }
  });
}

function leaves(field, key) {
  if (key === "ArrowUp") return false;
  return field.scrollHeight < 70 || field.selectionEnd === field.value.length;
}
