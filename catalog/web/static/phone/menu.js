// What the app is, what it holds, the light, and the way to the pages of the server.
import { clear } from "./dom.js";
import { title } from "./shell.js";
import { words } from "./words.js";

const KEY = "chockbook.light";

export function show(container) {
  title(words.menu);
  clear(container, document.getElementById("menu").content.cloneNode(true));
  for (const choice of container.querySelectorAll("input[name=light]")) {
    choice.checked = choice.value === (document.documentElement.dataset.light ?? "");
    choice.addEventListener("change", () => light(choice.value));
  }
}

function light(value) {
  if (value) document.documentElement.dataset.light = value;
  else delete document.documentElement.dataset.light;
  try {
    localStorage.setItem(KEY, value);
  } catch {
    // A private window may refuse; the choice then holds until the app is closed.
  }
}
