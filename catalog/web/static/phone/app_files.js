// The app's own files, kept by version: all of them or none. The worker answers from the version that is in use.
import { ask } from "./parts.js";
import { troubles } from "./keep_words.js";
import { Trouble, inWords } from "./database.js";

// The version of the app that this very page is.
export const SHELL =
  document.querySelector("meta[name=shell]")?.content || import.meta.url.match(/\/assets\/([0-9a-f]+)\//)[1];

const PREFIX = "app-";
const DONE = "/phone/complete"; // an entry that says a version is whole, with the sums of its files

// Whether a browser lets this page be kept at all.
export const canKeep = () => "serviceWorker" in navigator && "caches" in globalThis;

// The worker that answers without signal; harmless where it is there already.
export const register = async () => {
  if (canKeep()) await navigator.serviceWorker.register("/worker.js");
};

export const isHere = async (version) => canKeep() && Boolean(await (await caches.open(PREFIX + version)).match(DONE));

// Fetch a version; files that did not change are taken over from the one before.
export const bringApp = async (version) => {
  if (!canKeep() || (await isHere(version))) return;
  const told = await (await ask("/phone/shell.json", { cache: "no-cache" })).json();
  if (told.version !== version) throw new Trouble(...troubles.shell, "moved");
  const before = await sums();
  const into = await caches.open(PREFIX + version);
  await Promise.all(
    told.files.map(async ([address, sum]) => {
      if (await into.match(address)) return;
      const same = sum && before.get(sum);
      const file = (same && (await caches.match(same))) || (await ask(address, { cache: "no-cache" }));
      await into.put(address, file).catch((error) => { throw inWords(error); });
    }),
  );
  await into.put(DONE, new Response(JSON.stringify(told)));
};

// Drop all versions but these.
export const tidyApps = async (versions) => {
  if (!canKeep()) return;
  const needed = new Set(versions.map((version) => PREFIX + version));
  for (const name of await caches.keys()) if (name.startsWith(PREFIX) && !needed.has(name)) await caches.delete(name);
};

// Address by sum, of everything that whole versions here hold.
const sums = async () => {
  const made = new Map();
  for (const name of await caches.keys()) {
    const done = name.startsWith(PREFIX) && (await (await caches.open(name)).match(DONE));
    if (done) for (const [address, sum] of (await done.json()).files) if (sum) made.set(sum, address);
  }
  return made;
};
