// What the app is, what it holds, the light, and the way to the pages of the server.
import { clear, el } from "./dom.js";
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
  keeping(container.querySelector("[data-keeping]"));
}

async function keeping(place) {
  const { inFull } = await import("./edition.js");
  const fill = async () => clear(place, (await inFull()).map((line) => el("p", {}, line)));
  await fill();
  place.after(el("button", { class: "button wide", type: "button", onclick: () => looked().then(fill) }, words.check));
}

const looked = async () => (await import("./keep.js")).again().catch(() => {});

function light(value) {
  if (value) document.documentElement.dataset.light = value;
  else delete document.documentElement.dataset.light;
  try {
    localStorage.setItem(KEY, value);
  } catch {
    // A private window may refuse; the choice then holds until the app is closed.
  }
}
