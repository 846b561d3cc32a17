// Answers for the app without signal. Which version of the app is in use stands in the database beside the edition it
// goes with, and changes with it at once; every file comes from that version, never from two.

const PREFIX = "app-";
const DONE = "/phone/complete";
const INSTEAD = new Set(["/", "/crew"]); // pages for which the app stands in where there is no signal

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== location.origin) return;
  const path = address.pathname;
  if (request.mode === "navigate") {
    if (path === "/phone") event.respondWith(ofTheApp(request, path));
    else if (INSTEAD.has(path)) event.respondWith(fetch(request).catch(() => Response.redirect("/phone", 302)));
  } else if (path === "/phone/app.webmanifest") event.respondWith(ofTheApp(request, path));
  else if (path.startsWith("/assets/") || path.startsWith("/phone/engine/")) event.respondWith(file(request, path));
});

// From the app in use, first of all; then the network; last, any whole version, which says itself what it lacks.
const ofTheApp = async (request, path) => {
  const version = await inUse();
  const cache = version && (await whole(PREFIX + version));
  const here = cache && (await cache.match(path));
  return here || fetch(request).catch(async (error) => {
    for (const name of await caches.keys()) {
      const other = name.startsWith(PREFIX) && (await whole(name));
      if (other) return other.match(path);
    }
    throw error;
  });
};

// An address that says its version holds one content for good; the server gives another's under it, marked as such.
const file = async (request, path) => {
  const here = await caches.match(path);
  if (here) return here;
  const answer = await fetch(request);
  return !path.startsWith("/assets/") || (answer.headers.get("Cache-Control") ?? "").includes("immutable")
    ? answer
    : Response.error();
};

// A version's files, if they are all here.
const whole = async (name) => {
  const cache = await caches.open(name);
  const done = await cache.match(DONE);
  if (!done) return null;
  const { files } = await done.json();
  return (await cache.keys()).length > files.length ? cache : null;
};

const inUse = async () => {
  try {
    const [current] = await rows("editions", "readonly", (store) => [store.get("current")]);
    return current?.shell;
  } catch {
    return null;
  }
};

// What is asked of a store, its answers in order. For background.js too.
const rows = (name, mode, work) =>
  new Promise((resolve, reject) => {
    const asked = indexedDB.open("chockbook");
    // Not made here: the page makes it.
    asked.onupgradeneeded = () => asked.transaction.abort();
    asked.onerror = () => reject(asked.error);
    asked.onsuccess = () => {
      const open = asked.result;
      const moved = open.transaction(name, mode);
      const got = work(moved.objectStore(name));
      moved.oncomplete = () => { resolve(got.map((each) => each.result)); open.close(); };
      moved.onabort = () => { reject(moved.error); open.close(); };
    };
  });
