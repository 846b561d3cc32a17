// What was said, tapped and answered so far: one state for words and taps, kept in this page's memory alone.

export const asked = new EventTarget();

const CANNOT_TELL = "cannot_tell";
// Question -> the attribute its answers are about.
const ABOUT = JSON.parse(document.getElementById("search").dataset.asks);

const empty = () => ({ text: "", taps: new Map(), struck: [], answers: new Map(), caller: null });
let state = empty();

const changed = () => asked.dispatchEvent(new Event("change"));
const questions = (attribute) => Object.keys(ABOUT).filter((id) => ABOUT[id] === attribute);

export const text = () => state.text;
export const tapped = (attribute) => state.taps.get(attribute) ?? null;
export const untold = (attribute) => questions(attribute).some((id) => state.answers.get(id)?.given === CANNOT_TELL);
export const caller = () => state.caller;
export const nothing = () => !state.text.trim() && !state.taps.size && !state.answers.size;

// Questions that could not be answered: [[id, what was asked]].
export const untoldAsks = () =>
  [...state.answers].filter(([, { given, asked: put }]) => given === CANNOT_TELL && put).map(([id, { asked: put }]) => [id, put]);

export function say(words) {
  if (words === state.text) return;
  state.text = words;
  // An empty line begins anew what was said of its words; taps stand for themselves.
  if (!words.trim()) state.struck = [];
  changed();
}

// One choice of an attribute; the same again takes it back. label: as it stands on the cell.
export function tap(attribute, value, label) {
  const again = state.taps.get(attribute)?.value === value;
  forget(attribute);
  if (!again) state.taps.set(attribute, { value, label });
  changed();
}

// Nothing is asked again that could not be told; tapped again, it is open once more.
export function cannotTell(attribute) {
  const again = untold(attribute);
  forget(attribute);
  if (!again) for (const id of questions(attribute)) state.answers.set(id, { given: CANNOT_TELL });
  changed();
}

function forget(attribute) {
  state.taps.delete(attribute);
  for (const id of questions(attribute)) state.answers.delete(id);
}

const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

// Strike out something understood. What was tapped or answered is taken back; words that were read stay and do not
// count; struck again, they do.
export function strike(chip) {
  if (chip.given) forget(chip.key[0]);
  else if (state.struck.some((key) => same(key, chip.key))) state.struck = state.struck.filter((key) => !same(key, chip.key));
  else state.struck.push(chip.key);
  changed();
}

// given: id of an answer or a name; null takes it back. put: the question as it was asked.
export function answer(id, given, put = "") {
  if (given === null) state.answers.delete(id);
  else state.answers.set(id, { given, asked: put });
  changed();
}

export function standAt(where) {
  state.caller = where;
  changed();
}

export function begin() {
  state = empty();
  changed();
}

// The search as device/phone/asked.py takes it.
export function question({ every = false, questions: asks = true } = {}) {
  return {
    text: state.text,
    taps: [...state.taps].map(([attribute, { value }]) => ({ attribute, values: [value], denied: false })),
    struck: state.struck,
    answers: Object.fromEntries([...state.answers].map(([id, { given }]) => [id, given])),
    caller: state.caller,
    every,
    questions: asks,
  };
}
