// Asks for the parts of the page that follow from the line, after each pause. The text goes in
// the body of a POST, never into an address, and an answer that was overtaken is thrown away.
import { held, hold } from "./chips.js";

const PAUSE = 120;
// A screen reader is told after a longer pause, so that it is not interrupted at every word.
const SETTLED = 900;
// What of the form goes along as it stands. A name half typed is not among it: it counts once it is given.
const KEPT = new Set(["said", "cue", "answer", "not", "caller", "scene", "told", "letter"]);

// shown: the page was laid out anew. asked: called with the form's fields at every question. placed: after its answer.
export function live(form, shown, { asked = () => {}, placed: after = () => {} } = {}) {
  const field = form.elements.said;
  const mirror = form.querySelector(".mirror");
  const state = { all: false, why: false, facts: false };
  let waiting = 0;
  let telling = 0;
  let asking = null;
  let done = "";
  const placed = new Map();

  const part = (name) => document.querySelector(`body [data-part="${name}"]`);

  // The form as it stands, as pairs of name and value.
  const pairs = () => [...new FormData(form)].filter(([name, value]) => KEPT.has(name) && value);

  async function ask() {
    asking?.abort();
    asking = new AbortController();
    const body = new URLSearchParams(pairs());
    asked(pairs());
    for (const name of Object.keys(state)) if (state[name]) body.set(name, "1");
    const typed = field.value;
    try {
      const answer = await fetch(form.dataset.live, { method: "POST", body, signal: asking.signal });
      const html = await answer.text();
      // A refusal comes as the same parts with the reason in them; anything else is no answer.
      if (!html.includes("data-part=\"possible\"")) throw new Error(String(answer.status));
      if (typed !== field.value) return;
      form.dataset.stale = "";
      place(html);
    } catch (error) {
      // Away or overtaken. What is shown may no longer fit the line, so say so instead of keeping quiet.
      if (error.name !== "AbortError") form.dataset.stale = "1";
    }
    document.querySelector("[data-stale-note]").hidden = form.dataset.stale !== "1";
  }

  function place(html) {
    for (const one of form.querySelectorAll("[data-pending]")) one.remove();
    const made = new DOMParser().parseFromString(html, "text/html");
    const row = document.activeElement?.dataset?.row ?? (document.activeElement?.matches?.("[data-not]") ? "1" : undefined);
    const toggled = document.activeElement?.dataset?.toggle;
    const chip = held();
    const focused = document.activeElement?.id;
    const answering = document.activeElement?.closest?.("[data-ask]");
    const open = [...document.querySelectorAll("details[data-fold][open]")].map((one) => one.dataset.fold);
    for (const fresh of made.querySelectorAll("[data-part]")) {
      if (fresh.dataset.part === "status") tell(fresh.textContent);
      else {
        const old = part(fresh.dataset.part);
        // The danger line is read out when it changes, not again with every key; a list that is open stays so.
        const html = fresh.innerHTML.trim();
        if (placed.get(fresh.dataset.part) === html) continue;
        // A name being typed is not taken from under the fingers.
        if (fresh.dataset.part === "ask" && old.querySelector("#named")?.value) continue;
        placed.set(fresh.dataset.part, html);
        old.replaceChildren(...fresh.childNodes);
      }
    }
    unmask();
    for (const one of document.querySelectorAll("details[data-fold]")) one.open = open.includes(one.dataset.fold);
    if (row !== undefined) (document.querySelector(`[data-row="${row}"]`) ?? document.querySelector("[data-row]"))?.focus();
    if (toggled) document.querySelector(`[data-toggle="${toggled}"]`)?.focus();
    if (answering && !answering.isConnected) document.querySelector("[data-ask]")?.focus();
    if (focused && document.activeElement?.id !== focused) document.getElementById(focused)?.focus();
    shown();
    hold(chip);
    after();
  }

  // Another vehicle's fields in the place of these. What was answered and changed goes along until the page holds it.
  function restore(fields) {
    for (const one of document.querySelectorAll("select[form=line], [data-pending], input[type=hidden][name=cue]")) one.remove();
    const of = (wanted) => fields.find(([name]) => name === wanted)?.[1] ?? "";
    field.value = of("said");
    (document.querySelector(`input[name=caller][value="${of("caller")}"]`) ?? {}).checked = true;
    for (const one of document.querySelectorAll("input[name=told]")) one.checked = fields.some(([name, value]) => name === "told" && value === one.value);
    for (const [name, value] of fields) {
      if (["cue", "answer", "not", "scene"].includes(name)) pending(name, value);
    }
    placed.clear();
    clearTimeout(waiting);
    keep();
    shown();
    ask();
  }

  // Numbers and names come back blanked; what was typed stands here already, and the underlines need its width.
  function unmask() {
    const typed = [...field.value];
    let at = 0;
    for (const node of mirror.childNodes) {
      const length = [...node.textContent].length;
      if (node.classList?.contains("masked")) node.textContent = typed.slice(at, at + length).join("");
      at += length;
    }
  }

  // first: what has just been done, said before what came of it.
  function tell(text, first = "") {
    clearTimeout(telling);
    done = first || done;
    telling = setTimeout(() => {
      const said = `${done} ${text}`.trim();
      // The same once more would be read out once more.
      if (part("status").textContent !== said) part("status").textContent = said;
      done = "";
    }, SETTLED);
  }

  function amended(what) {
    tell(part("status").textContent, what);
    clearTimeout(waiting);
    ask();
  }

  // An answer chosen, a name given, a vehicle ruled out.
  function told(button) {
    const named = button.matches("[data-take]") && document.getElementById("named");
    if (named) {
      const name = named.value.trim();
      if (!name) return named.focus();
      named.value = "";
      return sent("answer", `${named.nextElementSibling.value}=${name}`, name);
    }
    return sent(button.name, button.value, button.ariaLabel ?? (button.lastElementChild.firstElementChild ?? button.lastElementChild).textContent);
  }

  // It goes along with every question to the catalogue until the page that comes back holds it itself.
  function pending(name, value) {
    const made = document.createElement("input");
    Object.assign(made, { type: "hidden", name, value });
    made.dataset.pending = "";
    form.append(made);
  }

  function sent(name, value, what) {
    pending(name, value);
    amended(`${what}.`);
  }

  // The line is emptied: the next words are about another call.
  function begin() {
    for (const one of document.querySelectorAll("select[name=answer], select[name=not], select[name=scene], [data-pending]")) one.remove();
    const unsaid = document.getElementById("where-unsaid");
    if (unsaid) unsaid.checked = true;
  }

  // Until the answer comes, underlines stay on the words before the change and leave the rest.
  function keep() {
    const text = field.value;
    let at = 0;
    for (const node of [...mirror.childNodes]) {
      const here = node.textContent;
      if (text.startsWith(here, at)) at += here.length;
      else node.remove();
    }
    // A trailing line break needs something after it to take up room, as in the field.
    mirror.append(`${text.slice(at)}\u200b`);
    mirror.normalize();
  }

  function changed() {
    if (/[\r\n]/.test(field.value)) field.value = field.value.replace(/[\r\n]+/g, " ");
    if (!field.value) begin();
    keep();
    shown();
    clearTimeout(waiting);
    waiting = setTimeout(() => ask(), PAUSE);
  }

  field.addEventListener("input", changed);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    clearTimeout(waiting);
    const take = document.activeElement?.id === "named" && document.querySelector("[data-take]");
    if (take) told(take);
    else ask();
  });
  addEventListener("resize", shown);
  document.fonts?.ready.then(shown);
  // Coming back to the page, the browser has filled the line in again.
  addEventListener("pageshow", () => {
    if (field.value) changed();
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-toggle], [data-take], button[name=answer], button[name=not]");
    if (!button) return;
    event.preventDefault();
    if (button.dataset.toggle) toggle(button.dataset.toggle);
    else told(button);
  });
  document.addEventListener("change", (event) => {
    if (event.target.name === "caller") amended(`${event.target.labels[0].textContent}.`);
    if (event.target.name === "told") asked(pairs());
  });

  function toggle(name) {
    state[name] = !state[name];
    ask();
  }

  for (const button of document.querySelectorAll("[data-toggle][aria-pressed=true]")) state[button.dataset.toggle] = true;
  keep();
  shown();
  return { toggle, amended, pairs, restore };
}
