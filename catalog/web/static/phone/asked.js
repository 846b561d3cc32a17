// What was said, tapped and answered so far: one state for words and taps, kept in this page's memory alone.
// It is what the API takes (cues, struck, answers, excluded, caller), so that server and engine are asked alike.

export const asked = new EventTarget();

const empty = () => ({ text: "", taps: new Map(), untold: new Set(), struck: [], answers: {}, excluded: [], caller: null });
let state = empty();

const changed = () => asked.dispatchEvent(new Event("change"));

export const text = () => state.text;
export const tapped = (attribute) => state.taps.get(attribute) ?? null;
export const untold = (attribute) => state.untold.has(attribute);
export const caller = () => state.caller;
export const answers = () => Object.entries(state.answers);
export const nothing = () =>
  !state.text.trim() && !state.taps.size && !Object.keys(state.answers).length && !state.excluded.length;

export function say(words) {
  if (words === state.text) return;
  state.text = words;
  // An empty line begins anew what was said of its words; taps stand for themselves.
  if (!words.trim()) state.struck = [];
  changed();
}

// One choice of an attribute; the same again takes it back. label: as it stands on the cell.
export function tap(attribute, value, label) {
  state.untold.delete(attribute);
  if (state.taps.get(attribute)?.value === value) state.taps.delete(attribute);
  else state.taps.set(attribute, { value, label });
  changed();
}

export function cannotTell(attribute) {
  state.taps.delete(attribute);
  if (!state.untold.delete(attribute)) state.untold.add(attribute);
  changed();
}

const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

// Strike out something understood: a tap is taken back, words read stay but do not count; struck again, they do.
export function strike(chip) {
  const { attribute, values } = chip.key;
  const made = state.taps.get(attribute);
  if (chip.origin === "given" && made && values.includes(made.value)) state.taps.delete(attribute);
  else if (state.struck.some((key) => same(key, chip.key))) state.struck = state.struck.filter((key) => !same(key, chip.key));
  else state.struck.push(chip.key);
  changed();
}

// answer: id of an option, "cannot_tell", a name, or null to take it back.
export function answer(question, given) {
  if (given === null) delete state.answers[question];
  else state.answers[question] = given;
  changed();
}

// Not this vehicle, or perhaps it is after all.
export function exclude(code, out = true) {
  state.excluded = state.excluded.filter((each) => each !== code);
  if (out) state.excluded.push(code);
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

export function question() {
  const cues = [...state.taps].map(([attribute, { value }]) => ({ attribute, values: [value] }));
  return {
    text: state.text,
    cues,
    struck: state.struck,
    answers: state.answers,
    excluded: state.excluded,
    ...(state.caller ? { caller: state.caller } : {}),
  };
}
