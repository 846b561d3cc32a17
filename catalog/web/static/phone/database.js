// What stays on the phone: one database, a few stores of values by key. Every failure is an error in words with its
// cure. Where the browser has no database (some private modes) values are held in memory, and `kept()` says so.

const NAME = "chockbook";
const VERSION = 1;
export const STORES = ["editions", "parts", "ticks", "outbox", "briefs", "settings"];
const WAIT = 4000; // milliseconds for a browser that never answers

// kind: "full" (no room), "closed" (wiped or taken away while open), "broken" (anything else).
export class Trouble extends Error {
  constructor(message, cure, kind = "broken") {
    super(message);
    Object.assign(this, { words: message, cure, kind, name: "Trouble" });
  }
}

let opening = null;
let memory = null; // of Maps by store, where there is no database
let why = "";

// Whether what is put here outlives the page, and why not.
export const kept = async () => {
  await database();
  return { kept: memory === null, why };
};

export const get = (store, key) => run(store, "readonly", (rows) => rows.get(key), (map) => map.get(key));
export const put = (store, key, value) =>
  run(store, "readwrite", (rows) => rows.put(value, key), (map) => void map.set(key, value));
export const remove = (store, key) =>
  run(store, "readwrite", (rows) => rows.delete(key), (map) => void map.delete(key));
export const keys = (store) => run(store, "readonly", (rows) => rows.getAllKeys(), (map) => [...map.keys()]);
// [[key, value], ...] in order of the keys.
export const all = async (store) => {
  const [names, values] = await run(
    store,
    "readonly",
    (rows) => [rows.getAllKeys(), rows.getAll()],
    (map) => [[...map.keys()], [...map.values()]],
  );
  return names.map((key, place) => [key, values[place]]);
};
// The values of several keys, in their order; undefined where there is none.
export const several = (store, names) =>
  run(
    store,
    "readonly",
    (rows) => names.map((key) => rows.get(key)),
    (map) => names.map((key) => map.get(key)),
  );
// Several changes of one store at once: all of them or none. A value of undefined removes its key.
export const change = (store, pairs) =>
  run(
    store,
    "readwrite",
    (rows) => {
      for (const [key, value] of pairs) value === undefined ? rows.delete(key) : rows.put(value, key);
    },
    (map) => {
      for (const [key, value] of pairs) value === undefined ? map.delete(key) : map.set(key, value);
    },
  );

const run = async (store, mode, work, inMemory) => {
  for (let turn = 0; ; turn += 1) {
    const open = await database();
    if (open === null) return inMemory(memory.get(store));
    try {
      return await once(open, store, mode, work);
    } catch (error) {
      // A database that was wiped or closed under us is opened again, once.
      if (turn === 0 && ["InvalidStateError", "NotFoundError"].includes(error.name)) opening = null;
      else throw inWords(error);
    }
  }
};

const once = (open, store, mode, work) =>
  new Promise((resolve, reject) => {
    const moved = open.transaction(store, mode);
    const asked = work(moved.objectStore(store));
    moved.oncomplete = () => resolve(Array.isArray(asked) ? asked.map((each) => each.result) : asked?.result);
    moved.onabort = () => reject(moved.error ?? new DOMException("aborted", "AbortError"));
  });

const database = () => {
  opening ??= open().catch((error) => {
    why = error.message;
    memory ??= new Map(STORES.map((store) => [store, new Map()]));
    return null;
  });
  return opening;
};

const open = () =>
  new Promise((resolve, reject) => {
    if (!globalThis.indexedDB) throw new Error("This browser keeps nothing for this page.");
    const late = setTimeout(() => reject(new Error("The browser's storage does not answer.")), WAIT);
    const asked = indexedDB.open(NAME, VERSION);
    asked.onupgradeneeded = () => {
      for (const store of STORES) if (!asked.result.objectStoreNames.contains(store)) asked.result.createObjectStore(store);
    };
    asked.onsuccess = () => {
      clearTimeout(late);
      const made = asked.result;
      made.onclose = () => { opening = null; }; // wiped by the browser or by its user
      made.onversionchange = () => { made.close(); opening = null; };
      resolve(made);
    };
    asked.onerror = () => {
      clearTimeout(late);
      reject(new Error(`The browser's storage cannot be opened (${asked.error?.name ?? "no reason given"}).`));
    };
  });

// An error of the browser's storage in words.
export const inWords = (error) => {
  if (error instanceof Trouble) return error;
  if (error.name === "QuotaExceededError") {
    return new Trouble("This phone has no room left.", "Free some storage, then try again.", "full");
  }
  if (["InvalidStateError", "NotFoundError", "AbortError"].includes(error.name)) {
    return new Trouble("The phone's storage was taken away while it was in use.", "Open the page again.", "closed");
  }
  return new Trouble(`The phone's storage failed (${error.name}).`, "Open the page again.");
};
