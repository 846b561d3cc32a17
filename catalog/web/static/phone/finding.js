// Asks for the view of what was said: the engine on this phone once it is there, the server until then.
import { words } from "./words.js";

let engine = null;
let asking = null;

// search: (question) -> view. From now on nothing of what is said leaves the phone.
export function onPhone(search) {
  engine = search;
  asking?.abort();
}

export const isOnPhone = () => engine !== null;

// The view; null where a later question overtook this one. Throws an error with words and cure.
export async function find(question) {
  asking?.abort();
  if (engine) return engine(question);
  const mine = (asking = new AbortController());
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
    if (mine.signal.aborted) return engine ? engine(question) : null;
    throw error.words ? error : Object.assign(new Error(words.away), { words: words.away, cure: words.awayCure });
  }
}
