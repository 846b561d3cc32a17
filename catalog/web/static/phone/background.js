// What the worker does besides (served after worker.js, whose `rows` it uses, and sending.js): sends what waits in the
// outbox when the browser finds signal, and answers for a brief that was kept where there is none.
(() => {
  const SLOW = 4000; // milliseconds a brief's page is waited for before the kept one is shown
  const HEADERS = {
    "Content-Type": "text/html; charset=utf-8",
    "Cache-Control": "no-store",
    "Content-Security-Policy":
      "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
  };

  addEventListener("sync", (event) => {
    if (event.tag === "outbox") event.waitUntil(send());
  });

  addEventListener("fetch", (event) => {
    const { request } = event;
    const address = new URL(request.url);
    if (request.mode !== "navigate" || request.method !== "GET" || address.origin !== location.origin) return;
    const [, token] = address.pathname.match(/^\/b\/([^/]+)$/) ?? [];
    if (token) event.respondWith(brief(request, token));
  });

  const send = async () => {
    const work = () => globalThis.chockbookSending.deliver({
      all: () => rows("outbox", "readonly", (store) => [store.getAllKeys(), store.getAll()])
        .then(([keys, values]) => keys.map((key, place) => [key, values[place]])),
      put: (id, entry) => rows("outbox", "readwrite", (store) => [store.put(entry, id)]),
    });
    const clear = await (navigator.locks ? navigator.locks.request("chockbook-outbox", work) : work());
    new BroadcastChannel("chockbook-outbox").postMessage("change");
    if (!clear) throw new Error("something waits still"); // the browser tries again later
  };

  const brief = async (request, token) => {
    const late = new Promise((resolve) => setTimeout(resolve, SLOW));
    const asked = fetch(request);
    const first = await Promise.race([asked, late]).catch(() => null);
    if (first) return first;
    const kept = await rows("briefs", "readonly", (store) => [store.get(token)]).then(([entry]) => entry, () => null);
    return kept && kept.until > Date.now() ? page(kept) : asked;
  };

  // The page as it was, with how old it is above everything.
  const page = ({ html, asked, standing }) => {
    const since = new Date(asked).toISOString().slice(0, 16).replace("T", " ");
    const state = standing.recalled ? "It was RECALLED: do not go by it." : "Whether it was recalled or corrected since is not known.";
    const said = `<p class="banner" role="status"><b>No signal: the copy on this device, asked after at ${since} UTC.</b> ${state}</p>`;
    const shown = html
      .replace(/<html/, '<html data-kept="1"')
      .replace(/<p class="note-newer kept-here".*?<\/p>/, "")
      .replace(/(<main[^>]*>)/, `$1${said}`);
    return new Response(shown, { headers: HEADERS });
  };
})();
