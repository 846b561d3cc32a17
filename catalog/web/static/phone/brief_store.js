// Briefs that were opened on this device: each as its page was, until it expires; then gone.
import * as db from "./database.js";

export const changes = new EventTarget(); // "told": a kept brief was recalled or corrected since it was last asked after
const FILES = "briefs"; // cache of what their pages are made of: style, script, type

// {token, id, title, kind, letter, edition, published, composed, until, opened, html, standing, asked}, newest first.
export const all = async () => {
  const entries = (await db.all("briefs")).map(([, entry]) => entry);
  const now = Date.now();
  for (const { token, until } of entries) if (until <= now) await forget(token);
  return entries.filter(({ until }) => until > now).sort((a, b) => b.opened - a.opened);
};

export const one = (token) => db.get("briefs", token);

export const keep = async (entry, files) => {
  await db.put("briefs", entry.token, entry);
  if (!globalThis.caches) return;
  const cache = await caches.open(FILES);
  await Promise.all(files.map(async (address) => (await cache.match(address)) || cache.add(address).catch(() => {})));
};

export const forget = async (token) => {
  await db.remove("briefs", token);
  if (globalThis.caches && !(await db.keys("briefs")).length) await caches.delete(FILES);
};

// Ask what became of a brief. Resolves to the entry as it is now, null where its link has ended; rejects without signal.
// Several askings at once are one, so that it is told once.
export const ask = (token) => {
  if (!asking.has(token)) asking.set(token, askNow(token).finally(() => asking.delete(token)));
  return asking.get(token);
};
const asking = new Map();

const askNow = async (token) => {
  const answer = await fetch(`/b/${token}/standing`, { headers: { Accept: "application/json" }, cache: "no-store" });
  if (!answer.ok) throw new Error(`standing ${answer.status}`);
  const told = await answer.json();
  const entry = await one(token);
  if (told.ended || !entry) {
    await forget(token);
    return null;
  }
  const before = entry.standing;
  const worse = (told.recalled && !before.recalled) || told.corrected.length > before.corrected.length;
  const now = { ...entry, standing: told, asked: Date.now() };
  if (worse || told.newer !== before.newer) now.html = await anew(token).catch(() => entry.html);
  await db.put("briefs", token, now);
  if (worse) changes.dispatchEvent(new CustomEvent("told", { detail: now }));
  return now;
};

// Ask after every kept brief; what cannot be asked stays as it was.
export const askAll = async () => {
  for (const { token } of await all()) {
    try {
      await ask(token);
    } catch {
      return; // no signal
    }
  }
};

// Its page again, without being counted as opened by somebody.
const anew = async (token) => {
  const answer = await fetch(`/b/${token}`, { headers: { "X-Kept-Copy": "1" }, cache: "no-store" });
  if (!answer.ok) throw new Error(`brief ${answer.status}`);
  return answer.text();
};
