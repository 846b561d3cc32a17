// The random id by which this device alone is known: which edition it had, which reports it sent. Nothing else says
// whose it is, and it goes with the browser's storage.
import * as db from "./database.js";

let drawn = null;

export const deviceId = () => {
  drawn ??= known();
  return drawn;
};

const known = async () => {
  const there = await db.get("settings", "device").catch(() => null);
  if (there) return there;
  const made = randomId();
  await db.put("settings", "device", made).catch(() => {});
  return made;
};

// 32 random hex digits.
export const randomId = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
