// Asks for the view of what was said: the engine on this phone once it is there, the server until then.
import { asked } from "./asked.js";
import { words } from "./words.js";

// What to ask next takes as long as all the rest: it comes once somebody stops typing.
const PAUSE = 200;

let engine = null;
let asking = null;
let typed = null;
let put = null;
let whole = 0;
let unanswered = false; // what was said last: no server answered, and the engine was not here yet

// search: (question) -> view. From now on nothing of what is said leaves the phone.
export function onPhone(search) {
  engine = search;
  asking?.abort();
  if (unanswered) asked.dispatchEvent(new Event("change"));
  unanswered = false;
}

export const isOnPhone = () => engine !== null;

// The view; null where a later question overtook this one. Throws an error with words and cure.
export async function find(question) {
  asking?.abort();
  if (engine) return onEngine(question);
  const mine = (asking = new AbortController());
  unanswered = false;
  try {
    const answer = await fetch("/phone/search", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(question),
      signal: mine.signal,
    });
    const view = await answer.json();
    if (!answer.ok) throw Object.assign(new Error(view.words), view);
    return view;
  } catch (error) {
    if (mine.signal.aborted) return engine ? onEngine(question) : null;
    unanswered = true;
    throw error.words ? error : Object.assign(new Error(words.away), { words: words.away, cure: words.awayCure });
  }
}

// The question of before stays until the next one is chosen, but not where something said is a danger.
async function onEngine(question) {
  clearTimeout(whole);
  const quick = question.text !== typed;
  typed = question.text;
  const view = await engine({ ...question, questions: !quick });
  if (!quick) {
    put = view.ask;
    return view;
  }
  whole = setTimeout(() => asked.dispatchEvent(new Event("change")), PAUSE);
  return Object.assign(view, { ask: view.danger ? null : put });
}
