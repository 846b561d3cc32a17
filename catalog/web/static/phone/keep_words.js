// What is said of the edition on the phone and of what went wrong with it, with what to do.
export const says = {
  fetching: (share) => `fetching the edition, ${share} %`,
  edition: (number, published, age) => `edition ${number}, ${published} (${age})`,
  newest: (asked) => `newest when asked ${asked}`,
  never: "not asked yet whether there is a newer one",
  stale: (asked) => `last asked ${asked}: a newer one may be out`,
  here: (number) => `Edition ${number} is here: change now`,
  coming: (number) => `edition ${number} is out and on its way here`,
  only: "kept only while this page is open",
};

export const troubles = {
  offline: ["No signal.", "What is on this phone stays in use. It asks again by itself."],
  noEdition: [
    "No edition is on this phone, and there is no signal.",
    "Open the page once where there is signal; it works without from then on.",
  ],
  signedOut: ["Fetching the edition needs a sign-in.", "Sign in, then come back to this page."],
  server: ["The catalogue did not answer.", "What is on this phone stays in use. It asks again by itself."],
  gone: ["A part of this edition is no longer offered.", "A newer edition is being asked for."],
  damaged: ["A part of the edition on this phone is damaged.", "It is fetched again as soon as there is signal."],
  arrived: ["A part of the edition arrived damaged.", "It is fetched again by itself."],
  half: [
    "This record is not on this phone yet: the signal went before the whole edition had arrived.",
    "Go by the steps for any vehicle; it arrives by itself where there is signal.",
  ],
  full: (needed) => [
    `This phone has no room for the edition (${needed}).`,
    "What it has stays in use. Free some storage, then open the page again.",
  ],
  fullFirst: (needed) => [
    `This phone has no room to keep the edition (${needed}): it works only while this page is open.`,
    "Free some storage, then open the page again where there is signal.",
  ],
  wiped: [
    "The browser emptied what this page had kept; ticks and reports that were not sent are lost.",
    "The edition in use stays while this page is open, and is fetched again.",
  ],
  format: [
    "The catalogue sends its edition in a form this app does not know.",
    "What is on this phone stays in use. The newer app is fetched; change to it when it is here.",
  ],
  shell: ["The app changed while it was fetched.", "Load the page again."],
  noKeeping: (why) => [`${why} This page works only while it is open and there is signal.`, "Open it in a usual window."],
  noWorker: [
    "This address has no HTTPS: a browser keeps no page for use without signal there.",
    "Open the catalogue by its https address.",
  ],
  unknown: (code) => [`This edition has no record ${code}.`, "Check how it is written, or search by description."],
};

const MINUTE = 60000;

// "3 days old", from two times in milliseconds.
export const age = (from, now) => {
  const days = Math.floor((now - from) / (1440 * MINUTE));
  if (days >= 1) return days === 1 ? "1 day old" : `${days} days old`;
  const hours = Math.floor((now - from) / (60 * MINUTE));
  return hours >= 1 ? `${hours} h old` : "under 1 h old";
};

// "just now", "12 min ago", "3 h ago", "2 days ago".
export const ago = (from, now) => {
  const minutes = Math.floor((now - from) / MINUTE);
  if (minutes < 1) return "just now";
  if (minutes < 60) return `${minutes} min ago`;
  if (minutes < 2880) return `${Math.floor(minutes / 60)} h ago`;
  return `${Math.floor(minutes / 1440)} days ago`;
};

// "1.9 MB"
export const bytes = (count) => (count < 1e6 ? `${Math.ceil(count / 1e3)} kB` : `${(count / 1e6).toFixed(1)} MB`);
