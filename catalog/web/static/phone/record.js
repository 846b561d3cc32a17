// A record, or the steps for any vehicle: the same pages. Which vehicle, the scene and the port line stand above
// everything; the badge is asked for first, then come the tabs.
import { alike } from "./alike.js";
import { answers, fit } from "./answers.js";
import { awake } from "./awake.js";
import { clocks, run } from "./clocks.js";
import { dangerLine } from "./danger.js";
import { clear, el } from "./dom.js";
import { more } from "./facts.js";
import { slip } from "./handover.js";
import { anything, changes, confirm, held } from "./held.js";
import * as keep from "./keep.js";
import { vehicle as opened } from "./record_engine.js";
import { words } from "./record_words.js";
import { go } from "./router.js";
import { portLine, sceneBar, shut } from "./scene.js";
import { back } from "./shapes.js";
import { bar, title } from "./shell.js";
import { goTo, steps } from "./steps.js";
import { strip } from "./strip.js";

// show(container, {code, tab}) -> leave(). Without a code: the steps for any vehicle. A code may be in small letters.
export async function show(container, { code: given = "any", tab = "" }) {
  const code = given === "any" ? given : given.toUpperCase();
  clear(container, el("p", { class: "in", role: "status" }, words.opening));
  let vehicle = await opened(code);
  const page = el("div", { class: "record-page", "data-tab": tab || "steps" });
  clear(container, page);
  shut();

  const paint = async (focus = "") => {
    const of = await held(code);
    const view = vehicle.view(of);
    const kept = focus || placeOf(document.activeElement, page);
    const open = new Set([...page.querySelectorAll("details[open][data-group]")].map((one) => one.dataset.group));
    const at = scrollY;
    title(view.title);
    keep.busy(anything(of) ? view.title : null);
    clear(page, head(view, tab), vehicle.withdrawn ? gone(vehicle.withdrawn) : body(vehicle, of, view, tab));
    for (const one of page.querySelectorAll("details[data-group]")) one.open ||= open.has(one.dataset.group);
    foot(code, of, view, tab, vehicle);
    settle();
    scrollTo(0, at);
    if (kept) page.querySelector(kept)?.focus({ preventScroll: true });
  };

  const settle = () => {
    const four = page.querySelector("#four");
    if (four) fit(four, document.getElementById("bar"));
  };
  // A doubt or a newer edition: what was opened no longer holds.
  const anew = async () => {
    vehicle = await opened(code);
    await paint();
  };
  const asked = ({ detail }) => paint(detail.focus);
  const followed = (event) => {
    const to = event.target.closest?.("[data-to]");
    if (!to) return;
    event.preventDefault();
    goTo(to.dataset.to);
  };
  const troubled = ({ detail }) => page.prepend(el("p", { class: "banner", role: "alert" }, `${detail.words ?? ""} ${detail.cure ?? ""}`));
  page.addEventListener("click", followed);
  const left = new AbortController(); // all that listens beyond this page, until it is left
  const listen = (to, name, heard) => to.addEventListener(name, heard, { signal: left.signal });
  listen(changes, "change", () => paint());
  listen(changes, "trouble", troubled);
  listen(keep.events, "doubt", anew);
  listen(keep.events, "changed", anew);
  listen(window, "phone:scene", asked);
  listen(window, "resize", settle);
  const sleep = tab === "" || tab === "walk" ? awake() : () => {};
  const stop = run();
  await paint();
  document.fonts?.ready.then(settle);
  return () => {
    left.abort();
    sleep();
    stop();
  };
}

// What has the focus, as it is found again once the page is made anew.
function placeOf(node, page) {
  if (!node || !page.contains(node)) return "";
  for (const name of ["data-tick", "data-key", "data-to", "name"]) {
    const value = node.getAttribute(name);
    if (value) return `[${name}="${CSS.escape(value)}"]`;
  }
  return node.tagName === "SELECT" ? "select" : "";
}

function head(view, tab) {
  return [
    el("div", { class: "which" },
      el("a", { class: "back", href: "#/", "aria-label": words.back }, back()),
      el("div", {}, el("h1", {}, view.title), el("p", {}, view.subtitle, " · ", el("span", { class: "nowrap" }, view.edition_short)))),
    el("div", { class: "overhead" },
      tab === "" && sceneBar(view),
      portLine(view)),
    dangerLine(view),
    view.doubted.map((one) => el("p", { class: "banner doubted" }, `${words.doubt}: ${one.label}. ${one.reason}`)),
  ];
}

const gone = ({ reason }) =>
  el("section", { class: "plate-danger", role: "alert" }, el("p", { class: "word" }, words.withdrawn), el("p", {}, reason),
    el("p", {}, el("a", { class: "button", href: "#/any" }, words.withdrawnGo)));

function body(vehicle, of, view, tab) {
  if (tab === "walk") return strip(vehicle, of, view);
  if (tab === "alike") return alike(vehicle, view.cautions.at(-1));
  if (tab === "more") return more(vehicle, view);
  if (tab === "slip") return slip(vehicle, of, view);
  return [clocks(view), answers(view, vehicle.code), steps(view, vehicle.code), el("p", { class: "in quiet" }, view.short, ". ", view.cautions.join(" "))];
}

// The foot: the badge until somebody said that this is the vehicle, then the tabs.
function foot(code, of, view, tab, vehicle) {
  if (vehicle.withdrawn) return bar(link("/any", words.any, false), link("/", words.back, false));
  if (code !== "any" && !of.confirmed && tab === "") return bar(...asks(code, view));
  const base = code === "any" ? "/any" : `/record/${code}`;
  const tabs = [["", words.steps], ["/walk", words.walk], ["/alike", words.alike], ["/more", words.more]];
  const shown = vehicle.known ? tabs : tabs.filter(([end]) => end === "" || end === "/more");
  bar(...shown.map(([end, name]) => link(base + end, name, `/${tab}` === end || (end === "" && tab === "") || (end === "/more" && tab === "slip"))));
}

const link = (path, name, current) => el("a", { href: `#${path}`, "aria-current": current && "page" }, el("b", {}, name));

const asks = (code, view) => [
  el("p", { class: "badge-ask", id: "badge-ask" }, `${view.badge.ask} `, el("b", {}, view.badge.reads)),
  el("button", { class: "button main", type: "button", "aria-describedby": "badge-ask", onclick: () => confirm(code, true) }, words.yes),
  el("button", { class: "button not", type: "button", onclick: () => go("/any") }, words.notThis),
];
