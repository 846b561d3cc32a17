// What a crew has said and ticked on this phone: one scene, whatever the vehicle; ticks, badge and typed words by
// vehicle ("any" for any vehicle). It stays on this phone, in the store "ticks", until somebody clears it.
// A scene is {words, values}: as the words of the search say it, and as somebody answered it, which goes before.
import * as db from "./database.js";

const SCENE = "scene";
const STORE = "ticks";
const blank = () => ({ ticks: {}, confirmed: false, typed: {} });

export const changes = new EventTarget(); // "change"; "trouble" with {words, cure}
const told = (error) => changes.dispatchEvent(new CustomEvent("trouble", { detail: error }));

let scene = null;
let said = null;
const vehicles = new Map();

// What the words of the search say of the scene, field -> "yes" or "no": it holds from the next record on.
export const heard = (found) => {
  said = found;
};

// {scene, ...what is held of a vehicle}. What cannot be read is said, and begins empty.
export async function held(code) {
  scene ??= await read(SCENE, { values: {} });
  if (said) await take();
  if (!vehicles.has(code)) vehicles.set(code, { ...blank(), ...(await read(code, {})) });
  return { scene: known(), ...vehicles.get(code) };
}

const known = () => Object.fromEntries(Object.entries({ ...scene.words, ...scene.values }).filter(([, answer]) => answer !== "unknown"));

async function take() {
  scene = { ...scene, words: said };
  said = null;
  await db.put(STORE, SCENE, scene).catch(told);
}

const read = (key, otherwise) => db.get(STORE, key).then((value) => value ?? otherwise, (error) => (told(error), otherwise));

const keep = async (key, value) => {
  changes.dispatchEvent(new Event("change"));
  await db.put(STORE, key, value).catch(told);
};

// answers: field -> "yes", "no" or "unknown"; the last goes before the search's words too.
export function say(answers) {
  scene = { ...scene, values: { ...scene.values, ...answers } };
  return keep(SCENE, scene);
}

// state: "done", "cannot", or null to take the tick back.
export function tick(code, key, state) {
  const { [key]: _, ...ticks } = vehicles.get(code).ticks;
  const now = new Date();
  if (state) ticks[key] = { state, at: now.getTime(), said: clock(now) };
  return put(code, { ticks });
}

export const confirm = (code, confirmed) => put(code, { confirmed });
export const type = (code, key, words) => put(code, { typed: { ...vehicles.get(code).typed, [key]: words } });

function put(code, changed) {
  vehicles.set(code, { ...vehicles.get(code), ...changed });
  return keep(code, vehicles.get(code));
}

// A new incident: nothing of the one before stays, of no vehicle.
export async function clear() {
  scene = { values: {} };
  said = null;
  vehicles.clear();
  for (const key of await db.keys(STORE).catch((error) => (told(error), []))) await db.remove(STORE, key).catch(told);
  changes.dispatchEvent(new Event("change"));
}

// Whether anything is held at all: then an incident is open.
export const anything = (of) => Object.keys(of.scene).length > 0 || Object.keys(of.ticks).length > 0 || of.confirmed;

const two = (number) => String(number).padStart(2, "0");
export const clock = (time) => `${two(time.getHours())}:${two(time.getMinutes())}`;
