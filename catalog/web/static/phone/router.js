// Hash routes: "#/record/7K2-MQ4" shows what was registered for "/record/:code". Back works as it does everywhere.
import { clear, el } from "./dom.js";
import { words } from "./words.js";

const routes = [];
let leave = () => {};
let shown = 0;
let fallback = null;
const scrolled = new Map();
let at = "";

// show(container, params) -> leave() or nothing, or a promise of it. name: the page's, for its style
// (body[data-page]). own: a node of the page that is shown and hidden as it stands, instead of the emptied container.
export function route(pattern, show, { name = "", own = null } = {}) {
  const keys = [...pattern.matchAll(/:(\w+)/g)].map(([, key]) => key);
  const form = new RegExp(`^${pattern.replace(/:\w+/g, "([^/]+)")}/?$`);
  routes.push({ form, keys, show, name, own });
}

// The address of the page shown, without "#": "/record/7K2-MQ4".
export const here = () => decodeURI(location.hash.slice(1)) || "/";

// Go to a page; replace: without a step back.
export function go(path, { replace = false } = {}) {
  if (replace) {
    history.replaceState(null, "", `#${path}`);
    turn();
  } else if (here() === path) turn();
  else location.hash = path;
}

// Begin: container takes every page that has no node of its own.
export function start(container) {
  fallback = container;
  addEventListener("hashchange", turn);
  return turn();
}

async function turn() {
  const path = here();
  const found = routes.find(({ form }) => form.test(path)) ?? routes[0];
  const values = path.match(found.form)?.slice(1) ?? [];
  const params = Object.fromEntries(found.keys.map((key, place) => [key, decodeURIComponent(values[place])]));
  const turned = ++shown;
  scrolled.set(at, scrollY);
  try {
    leave();
  } catch (error) {
    console.warn(error);
  }
  leave = () => {};
  for (const each of routes) if (each.own) each.own.hidden = each.own !== found.own;
  fallback.hidden = Boolean(found.own);
  clear(fallback);
  document.body.dataset.page = found.name;
  const first = at === "";
  at = path;
  dispatchEvent(new CustomEvent("phone:page", { detail: { path, name: found.name } }));
  const container = found.own ?? fallback;
  let left;
  try {
    left = await found.show(container, params);
  } catch (error) {
    console.warn(error);
    if (turned === shown) failed(container, error);
    return;
  }
  // Overtaken by another page while it was made ready: it is left at once.
  if (turned !== shown) return left?.();
  if (left) leave = left;
  if (first) return;
  scrollTo(0, scrolled.get(path) ?? 0);
  const heading = container.querySelector("h1");
  if (!heading) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}

// error.words and error.cure where whoever threw it said them.
function failed(container, error) {
  const say = el("section", { class: "failed", role: "alert" },
    el("h1", {}, error.words ?? words.failed),
    el("p", {}, error.cure ?? words.failedCure),
    el("p", {}, el("a", { class: "button", href: "#/any" }, words.any)),
  );
  if (container === fallback) clear(container, say);
  else container.prepend(say);
}
