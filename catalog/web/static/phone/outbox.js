// What the crew sends: kept on the phone first, delivered once, tried again when there is signal, when the app opens, now
// and then while it is open, and by the browser in the background where it can.
import * as db from "./database.js";
import { deviceId, randomId } from "./device.js";
import "./sending.js";

export const changes = new EventTarget(); // "change": an entry waits, arrived or was refused

const EVERY = 30000; // milliseconds between tries while something waits
const KEPT = 3 * 86400000; // how long what arrived stays in the list
const TAG = "outbox";
const store = { all: () => db.all("outbox"), put: (id, entry) => db.put("outbox", id, entry) };
const other = globalThis.BroadcastChannel && new BroadcastChannel("chockbook-outbox");

let begun = false;
let timer = null;
let running = null;

// Listen for signal, and send what waits from before.
export const begin = () => {
  if (begun) return;
  begun = true;
  addEventListener("online", () => deliver());
  document.addEventListener("visibilitychange", () => document.hidden || deliver());
  other?.addEventListener("message", () => changes.dispatchEvent(new Event("change")));
  tidy().then(deliver).catch(() => {});
};

// Keep and send. kind: "report". body: what the API takes, without ids. photo: bytes of a JPEG, or null.
// Resolves to the entry once it is kept; rejects in words with a cure, kind "full" where there is no room, and then
// nothing is kept. Without room for anything it is sent straight away where there is signal.
export const send = async (kind, body, photo = null) => {
  const id = randomId();
  const entry = {
    id, kind, photo, state: "waiting", made: Date.now(), words: 0, arrived: 0, problem: "",
    body: { ...body, id, device: await deviceId() },
  };
  try {
    await db.put("outbox", id, entry);
  } catch (error) {
    if (error.kind !== "full" || photo) throw error;
    return direct(entry, error);
  }
  changes.dispatchEvent(new Event("change"));
  begin();
  deliver();
  background();
  return entry;
};

// What was sent and what waits, newest first.
export const sent = async () => (await db.all("outbox")).map(([, entry]) => entry).sort((a, b) => b.made - a.made);
export const drop = async (id) => {
  await db.remove("outbox", id);
  changes.dispatchEvent(new Event("change"));
};

// Try now; several askings at once are one.
export const deliver = () => {
  running ??= alone(() => globalThis.chockbookSending.deliver(store))
    .catch(() => false)
    .then((clear) => {
      running = null;
      clearTimeout(timer);
      if (!clear) timer = setTimeout(deliver, EVERY);
      changes.dispatchEvent(new Event("change"));
      other?.postMessage("change");
      return clear;
    });
  return running;
};

const direct = async (entry, full) => {
  let after = entry;
  await globalThis.chockbookSending.deliver({
    all: async () => [[entry.id, entry]],
    put: async (_, now) => { after = now; },
  });
  if (after.state !== "arrived") throw full;
  return after;
};

const background = async () => {
  try {
    await (await navigator.serviceWorker?.ready)?.sync?.register(TAG);
  } catch {
    // Not every browser has it, and it may be switched off: the app then sends when it is open.
  }
};

// One window at a time.
const alone = (work) => (navigator.locks ? navigator.locks.request("chockbook-outbox", work) : work());

const tidy = async () => {
  const before = Date.now() - KEPT;
  const old = (await sent()).filter((entry) => entry.state === "arrived" && entry.arrived < before);
  if (old.length) await db.change("outbox", old.map((entry) => [entry.id, undefined]));
};
