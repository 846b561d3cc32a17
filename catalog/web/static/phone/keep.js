// The edition on this phone: opened, kept, asked after, changed. A newer one arrives in the background and takes over
// at once while nothing is open, otherwise only on a tap; a doubt is told at once and stays marked until it is taken.
//
// In the store "editions": "current", in use together with the app's version and the engine it goes with; "next",
// whole and waiting; "past", for other windows that still show it.
import * as db from "./database.js";
import { SHELL, bringApp, canKeep, isHere, register, tidyApps } from "./app_files.js";
import { bytes, troubles } from "./keep_words.js";
import { FORMAT, listed, opened } from "./opening.js";
import * as parts from "./parts.js";
import { deviceId } from "./device.js";

export const events = new EventTarget(); // "newer", "doubt", "trouble", "progress", "changed", "status"

const EVERY = 15000; // milliseconds between looks, as on every page
const QUIET = 60000; // milliseconds without a touch after which nobody is at it
const tell = (name, detail = {}) => events.dispatchEvent(new CustomEvent(name, { detail }));

let opening = null; // promise of what is in use
let inUse = null; // {edition, listing, ...opened}
let told = null; // what the server said last
let open = null; // why nothing may change by itself
let later = null; // timer of the next look
const standing = { asked: null, signal: true, newer: null, here: false, progress: null, trouble: null, kept: true, why: "" };
const other = globalThis.BroadcastChannel && new BroadcastChannel("chockbook-edition");

// The engine with the edition in use: {engine, field, lexicon, edition, site}. Rejects in words with a cure.
export const ready = () => {
  opening ??= begin().catch((error) => {
    opening = null;
    throw said(error);
  });
  return opening;
};

// Begin anew what failed.
export const again = () => ready().then(look, look);

// The document of a record, as published. Rejects where the edition has none, or it has not arrived.
export const record = async (code) => (await kept("records", code)).document;

// The record as the engine has it. What was doubted since the edition in use is not stated in it, as it is in the newest.
export const vehicle = async (code) => {
  const { engine } = await ready();
  const { modules: m, py } = engine;
  const { said_at: saidAt, without } = m["catalog.domain.doubt"];
  let made = m["catalog.domain.documents"].record_from_document(py.fromJson(await record(code)));
  for (const { path } of pending().filter((doubt) => doubt.code === code && doubt.path)) {
    if (py.t(saidAt(made, path))) made = without(made, path);
  }
  return made;
};

// What stands beside the document: {code, title, subtitle, revision, seq, sources, withdrawn, edition}.
export const meta = async (code) => {
  const { tables, edition } = await ready();
  const gone = [...tables.meta.withdrawn, ...(told?.newest > edition.number ? told.withdrawn : [])].find(([each]) => each === code);
  if (gone) return { code, title: gone[1], subtitle: gone[2], withdrawn: gone[3], sources: {}, edition };
  const { revision, seq, document } = await kept("records", code);
  const place = tables.meta.codes.indexOf(code);
  const cited = [...new Set(JSON.stringify(document).match(/[A-Z0-9][A-Z0-9-]{1,30}\/[0-9]{1,4}/g) ?? [])];
  const found = await Promise.all(cited.map((key) => kept("sources", key).then((source) => [key, source], () => null)));
  return {
    code, revision, seq, edition, withdrawn: null,
    title: tables.meta.titles[place], subtitle: tables.meta.subtitles[place],
    sources: Object.fromEntries(found.filter(Boolean)),
  };
};

// Doubts that stand, of a record or of all. pending: told since the edition in use, which still states the fact.
export const doubts = (code) => {
  if (!inUse) return [];
  const all = [...pending(), ...inUse.doubts.map((doubt) => ({ ...doubt, pending: false }))];
  return code === undefined ? all : all.filter((doubt) => doubt.code === code);
};

// An incident is open (say what), or none is (null). While one is, nothing changes without a tap.
export const busy = (reason) => {
  open = reason;
  if (!open && standing.here && (told.shell === SHELL || quiet())) takeNewer().catch(said);
};

// Everything the line about the edition is made from.
export const status = () => ({ ...standing, edition: inUse?.edition ?? null, pending: pending().length, busy: open });

// Change to the newer edition, with the app that goes with it. Fetches what is not here yet.
export const takeNewer = async () => {
  if (!(await db.get("editions", "next"))) await bringNewer();
  const next = await db.get("editions", "next");
  if (!next) return;
  const past = await db.get("editions", "current");
  await db.change("editions", [["current", next], ["next", undefined], ["past", past]]);
  Object.assign(standing, { newer: null, here: false });
  other?.postMessage("taken");
  if (next.shell !== SHELL) return location.reload();
  const made = use(next, false);
  await made;
  opening = made;
  await tidy();
  tell("changed", { edition: next });
  tell("status");
};

const begin = async () => {
  Object.assign(standing, await db.kept());
  [standing.asked = null, told = null] = await db.several("settings", ["asked", "told"]);
  const current = await db.get("editions", "current");
  if (current && current.shell === SHELL && current.format === FORMAT) {
    const made = await use(current, true);
    follow(current.whole ? null : current);
    return made;
  }
  // Nothing here, or what an app of another version left: never used by this one.
  const newest = await asked().catch((error) => {
    throw error.kind === "offline" ? new db.Trouble(...troubles.noEdition, "noEdition") : error;
  });
  if (newest.shell !== SHELL) throw new db.Trouble(...troubles.shell, "moved");
  if (newest.format !== FORMAT) throw new db.Trouble(...troubles.format, "format");
  const made = await use(editionOf(newest), true);
  follow(inUse.edition);
  return made;
};

const use = async (edition, fetching) => {
  const listing = await listed(edition.listing, fetching);
  if (listing.format !== FORMAT) throw new db.Trouble(...troubles.format, "format");
  inUse = { edition, listing, ...(await opened(listing, edition.engine, fetching)) };
  tell("status");
  return inUse;
};

const editionOf = ({ number, hash, published_at, reason, records, listing, packed, engine, format, shell, demo }) => ({
  number, hash, published_at, reason, records, listing, packed, engine, format, shell, demo,
});

// After the edition is open: keep the rest of it, then ask after newer ones for as long as the page is open.
const follow = async (incomplete) => {
  addEventListener("online", () => soon(0));
  document.addEventListener("visibilitychange", () => document.hidden || soon(0));
  other?.addEventListener("message", () => tell("newer", { number: null, elsewhere: true }));
  notice(); // what was told before the page was closed
  try {
    if (!standing.kept) throw new db.Trouble(...troubles.noKeeping(standing.why), "nothingKept");
    if (!canKeep()) throw new db.Trouble(...troubles.noWorker, "noWorker");
    await register();
    if (incomplete) await bringWhole(incomplete, "current");
    lasting = true;
    await tidy();
  } catch (error) {
    said(error);
  }
  soon(0);
};

const soon = (wait) => {
  clearTimeout(later);
  later = setTimeout(look, wait);
};

let looking = false;
const look = async () => {
  if (looking) return;
  looking = true;
  try {
    await asked();
    notice();
    await mend();
    await bringNewer();
    if (standing.trouble?.passing) standing.trouble = null;
  } catch (error) {
    if (error.kind !== "offline") said(error, true);
  }
  looking = false;
  tell("status");
  soon(standing.signal ? EVERY : EVERY * 2);
};

// Ask which edition is newest.
const asked = async () => {
  const device = await deviceId();
  const has = inUse?.edition.number ?? "";
  try {
    const answer = await parts.ask(`/phone/edition.json?device=${device}&has=${has}`, { cache: "no-cache" });
    told = await answer.json();
    Object.assign(standing, { asked: Date.now(), signal: true });
    await db.change("settings", [["asked", standing.asked], ["told", told]]).catch(() => {});
  } catch (error) {
    standing.signal = error.kind !== "offline";
    throw error;
  }
  return told;
};

// What the browser, or its user, took away while the page is open is fetched again.
const mend = async () => {
  if (!inUse || !standing.kept || !canKeep()) return;
  const current = await db.get("editions", "current");
  if (current?.whole && (await isHere(current.shell))) return;
  if (!current && lasting) said(new db.Trouble(...troubles.wiped, "wiped"));
  const { edition } = inUse;
  const offered = told.listing === edition.listing && told.shell === SHELL;
  if (!offered && current?.whole) return; // its app's files are no longer offered; the next one is on its way
  await register();
  await bringWhole(offered ? edition : editionOf(told), offered ? "current" : "next");
  lasting = true;
};
let lasting = false; // whether the edition in use was whole on this phone

// What was doubted since the edition in use, and has not been told on this page.
const notice = () => {
  if (!inUse) return;
  const fresh = pending().filter((doubt) => !noticed.has(keyOf(doubt)));
  for (const doubt of fresh) noticed.add(keyOf(doubt));
  if (fresh.length) tell("doubt", { doubts: fresh });
};
const noticed = new Set();
const keyOf = (doubt) => `${doubt.code} ${doubt.path} ${doubt.edition ?? ""}`;

const pending = () => {
  if (!inUse || !told || told.newest <= inUse.edition.number) return [];
  const gone = new Set(inUse.tables.meta.withdrawn.map(([code]) => code));
  const withdrawn = told.withdrawn
    .filter(([code]) => !gone.has(code))
    .map(([code, title, , reason]) => ({ code, title, path: "", label: "", reason, withdrawn: true, edition: told.newest }));
  const later_ = told.doubts.filter((doubt) => doubt.edition > inUse.edition.number);
  return [...later_, ...withdrawn].map((doubt) => ({ ...doubt, pending: true }));
};

// Nobody is at it: another app, which loads the page anew, takes nothing from under a hand.
let touched = Date.now();
for (const name of ["pointerdown", "keydown"]) addEventListener(name, () => { touched = Date.now(); }, { capture: true, passive: true });
const quiet = () => document.hidden || Date.now() - touched > QUIET;

const bringNewer = async () => {
  if (!inUse || !told) return;
  const { edition } = inUse;
  if ((told.listing === edition.listing && told.shell === SHELL) || told.number < edition.number) return;
  if (told.format !== FORMAT && told.shell === SHELL) throw new db.Trouble(...troubles.format, "format");
  standing.newer = told.number;
  if (!standing.kept || !canKeep()) {
    tell("newer", { number: told.number });
    return;
  }
  const next = await db.get("editions", "next");
  if (next?.listing !== told.listing || next.shell !== told.shell) await bringWhole(editionOf(told), "next");
  standing.here = true;
  if (open || (told.shell !== SHELL && !quiet())) tell("newer", { number: told.number, app: told.shell !== SHELL });
  else await takeNewer();
};

// Fetch all of an edition and of the app it goes with, then put it in its place.
const bringWhole = (edition, place) =>
  alone(async () => {
    try {
      await brought(edition, place);
    } catch (error) {
      if (error.kind !== "full" || !(await db.get("editions", "past"))) throw error;
      await db.remove("editions", "past"); // what other windows show makes room
      await tidy();
      await brought(edition, place);
    }
  }).finally(() => { standing.progress = null; });

const brought = async (edition, place) => {
  await bringApp(edition.shell);
  const rows = parts.parsed(await parts.read(edition.listing)).parts;
  if (place === "current") await db.put("editions", place, { ...edition, whole: false });
  const wanted = new Map([[edition.listing, 0], ...rows.map(([, , name, size]) => [name, size])]);
  const lacking = await parts.missing([...wanted.keys()]);
  const total = lacking.reduce((made, name) => made + wanted.get(name), 0);
  let done = 0;
  await parts.bring(lacking, (name) => {
    done += wanted.get(name);
    standing.progress = total ? done / total : 1;
    tell("progress", { done, total });
  });
  standing.progress = null;
  await db.put("editions", place, { ...edition, whole: true });
  navigator.storage?.persist?.();
};

// One window at a time.
const alone = (work) => (navigator.locks ? navigator.locks.request("chockbook-edition", work) : work());

const tidy = async () => {
  const held = (await db.several("editions", ["current", "next", "past"])).filter(Boolean);
  if (!held.length) return;
  const names = [];
  for (const { listing } of held) {
    const told_ = await parts.read(listing, false).then(parts.parsed, () => ({ parts: [] }));
    names.push(listing, ...told_.parts.map(([, , name]) => name));
  }
  await parts.tidy(names);
  await tidyApps(held.map(({ shell }) => shell));
};

const chunks = new Map(); // the last few that were read, by name
const kept = async (use_, key) => {
  const { listing } = await ready();
  const rows = listing.parts[use_];
  let place = rows.findIndex(([first]) => first > key);
  if (place < 0) place = rows.length;
  const name = rows[place - 1]?.[1];
  if (name && !chunks.has(name)) {
    chunks.set(name, parts.parsed(await parts.read(name)));
    if (chunks.size > 24) chunks.delete(chunks.keys().next().value);
  }
  const found = name && chunks.get(name)[key];
  if (!found) throw new db.Trouble(...troubles.unknown(key), "unknown");
  return found;
};

// passing: gone when the next look goes well. The same is told once.
const said = (error, passing = false) => {
  const worded = error.kind ? error : new db.Trouble(...troubles.server, "broken");
  if (!error.kind) console.warn(error);
  const size = bytes((told ?? inUse?.edition)?.packed ?? 0);
  const full = lasting ? troubles.full(size) : troubles.fullFirst(size);
  const [message, cure] = worded.kind === "full" ? full : [worded.message, worded.cure];
  const before = standing.trouble;
  standing.trouble = { message, cure, kind: worded.kind, passing };
  if (before?.message !== message) tell("trouble", standing.trouble);
  return worded;
};
