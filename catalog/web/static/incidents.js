// The calls that are open at this desk, each with its vehicles A, B, C ...: kept in the browser only, so that a
// reload or a crash loses nothing, for twelve hours and until somebody signs out. The server is told none of it.
const KEY = "chockbook.desk";
const LASTS = 12 * 60 * 60 * 1000;
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

export const vehicle = () => ({ fields: [], title: "", sent: [] });
const call = (now) => ({ opened: now, touched: now, number: "", current: "A", vehicles: { A: vehicle() } });

// Whether anything is kept of a vehicle, or of a call.
export const said = (one) => one.fields.some(([name, value]) => value && name !== "letter") || one.sent.length > 0;
export const inUse = (one) => Object.values(one.vehicles).some(said) || one.number !== "";

// The letter after the last one, "" after Z.
export function nextLetter(one) {
  const last = Object.keys(one.vehicles).sort().pop();
  return LETTERS[LETTERS.indexOf(last) + 1] ?? "";
}

// What is kept, without what is too old or somebody else's. who: the account signed in, "" for nobody.
export function read(text, who, now) {
  let kept = null;
  try {
    kept = JSON.parse(text);
  } catch {
    // Not ours, or half written: begin anew.
  }
  const fits = kept?.calls && (!who || !kept.who || kept.who === who);
  const calls = fits ? kept.calls.filter((one) => now - one.touched < LASTS && inUse(one)) : [];
  const at = fits ? calls.indexOf(kept.calls[kept.at]) : -1;
  return { who: who || (fits && kept.who) || "", calls: calls.length ? calls : [call(now)], at: at < 0 ? Math.max(0, calls.length - 1) : at };
}

export function incidents(who) {
  const now = () => Date.now();
  let gone = false;
  const store = (act) => {
    try {
      return act();
    } catch {
      return null; // A private window may refuse; the calls then live as long as this page.
    }
  };
  const state = read(store(() => localStorage.getItem(KEY)), who, now());

  function save() {
    if (gone) return;
    const calls = state.calls.filter(inUse);
    const text = JSON.stringify({ who: state.who, at: Math.max(0, calls.indexOf(state.calls[state.at])), calls });
    store(() => (calls.length ? localStorage.setItem(KEY, text) : localStorage.removeItem(KEY)));
  }

  // Signed out in another window: nothing is written back here.
  addEventListener("storage", (event) => {
    if (event.key !== KEY || event.newValue) return;
    gone = true;
    location.reload();
  });

  const here = () => state.calls[state.at];

  return {
    here,
    vehicle: () => here().vehicles[here().current],
    all: () => state.calls,
    at: () => state.at,
    keep: save,
    save() {
      here().touched = now();
      save();
    },
    // One vehicle on or back; past the last one a new one, and one of which nothing was said is dropped when left.
    vehicleBy(step) {
      const one = here();
      const letters = Object.keys(one.vehicles).sort();
      const place = letters.indexOf(one.current) + step;
      if (place < 0) return false;
      if (place >= letters.length) return this.toVehicle(said(this.vehicle()) ? nextLetter(one) : "");
      return this.toVehicle(letters[place]);
    },
    toVehicle(letter) {
      const one = here();
      if (!letter || letter === one.current) return false;
      const left = one.current;
      one.vehicles[letter] ??= vehicle();
      one.current = letter;
      if (left !== "A" && !said(one.vehicles[left])) delete one.vehicles[left];
      save();
      return true;
    },
    callBy(step) {
      return this.toCall(state.at + step);
    },
    // A call of which nothing was said is dropped when it is left; past the last one a new call begins.
    toCall(place) {
      if (place < 0 || place === state.at || (place >= state.calls.length && !inUse(here()))) return false;
      const left = here();
      if (place >= state.calls.length) state.calls.push(call(now()));
      const next = state.calls[Math.min(place, state.calls.length - 1)];
      if (!inUse(left)) state.calls.splice(state.calls.indexOf(left), 1);
      state.at = state.calls.indexOf(next);
      save();
      return true;
    },
    // This call is over: nothing of it is kept here any more.
    close() {
      state.calls.splice(state.at, 1);
      if (!state.calls.length) state.calls.push(call(now()));
      state.at = Math.min(state.at, state.calls.length - 1);
      save();
    },
  };
}
