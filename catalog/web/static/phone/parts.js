// Parts of an edition: fetched, checked against their names, kept packed, unpacked where they are read.
import * as db from "./database.js";
import { troubles } from "./keep_words.js";

const AT_ONCE = 6; // requests
const trouble = ([message, cure], kind) => new db.Trouble(message, cure, kind);

// What could not be kept for want of room, while this page is open.
const held = new Map();

// The bytes of a part, unpacked and checked. fetching: whether one that is not here may be fetched.
export const read = async (name, fetching = true) => (await readAll([name], fetching))[0];

// As `read`, of several at once.
export const readAll = async (names, fetching = true) => {
  const packed = await db.several("parts", names);
  return pooled(names, async (name, place) => {
    const here = held.get(name) ?? packed[place];
    if (here !== undefined) {
      try {
        return await checked(name, here, troubles.damaged);
      } catch (error) {
        await db.remove("parts", name).catch(() => {});
        held.delete(name);
        if (!fetching) throw error;
        return fetched(name, false).catch(() => { throw error; });
      }
    }
    if (!fetching) throw trouble(troubles.half, "missing");
    return fetched(name, false).catch((error) => { throw error.kind === "offline" ? trouble(troubles.half, "missing") : error; });
  });
};

// Fetch and keep those that are not here; what arrived stays where it ends half-way. told(name): after each.
export const bring = async (names, told = () => {}) => {
  await pooled(await missing(names), async (name) => {
    const packed = held.get(name);
    if (packed) await kept(name, packed, true);
    else await fetched(name, true);
    told(name);
  });
};

// Which of these are not here.
export const missing = async (names) => {
  const here = new Set(await db.keys("parts"));
  return names.filter((name) => !here.has(name));
};

// Drop everything but these.
export const tidy = async (needed) => {
  const names = new Set(needed);
  const spent = (await db.keys("parts")).filter((name) => !names.has(name));
  if (spent.length) await db.change("parts", spent.map((name) => [name, undefined]));
};

export const parsed = (content) => JSON.parse(new TextDecoder().decode(content));

// Ask the server; what cannot be answered is an error in words.
export const ask = async (address, options = {}) => {
  let answer;
  try {
    answer = await fetch(address, options);
  } catch {
    throw trouble(troubles.offline, "offline");
  }
  if (answer.redirected || answer.status === 401 || answer.status === 403) throw trouble(troubles.signedOut, "signedOut");
  if (answer.status === 404) throw trouble(troubles.gone, "gone");
  if (!answer.ok) throw trouble(troubles.server, "server");
  return answer;
};

// must: whether it is an error if there is no room to keep it.
const fetched = async (name, must) => {
  for (let turn = 0; ; turn += 1) {
    const answer = await ask(`/phone/parts/${name}`, { cache: "no-store" });
    try {
      const packed = await answer.arrayBuffer();
      const content = await checked(name, packed, troubles.arrived);
      await kept(name, packed, must);
      return content;
    } catch (error) {
      if (error.kind === "full") throw error;
      if (turn > 0) throw error.kind ? error : trouble(troubles.offline, "offline"); // cut off half-way
    }
  }
};

const kept = async (name, packed, must) => {
  try {
    await db.put("parts", name, packed);
    held.delete(name);
  } catch (error) {
    held.set(name, packed);
    if (must) throw error;
  }
};

const checked = async (name, packed, words) => {
  let content;
  try {
    content = await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
  } catch {
    throw trouble(words, "damaged");
  }
  if (crypto.subtle && (await digest(content)) !== name) throw trouble(words, "damaged");
  return content;
};

// SHA-256 in lower-case hex. Without HTTPS a browser has none, and keeps no page either: the packing's own sum is all.
const digest = async (content) => {
  const made = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
  return Array.from(made, (byte) => byte.toString(16).padStart(2, "0")).join("");
};

const pooled = async (names, work) => {
  const made = new Array(names.length);
  let next = 0;
  const one = async () => {
    while (next < names.length) {
      const place = next++;
      made[place] = await work(names[place], place);
    }
  };
  await Promise.all(Array.from({ length: Math.min(AT_ONCE, names.length) }, one));
  return made;
};
