// Delivers what waits in the outbox, oldest first. Run by the page and, where there is Background Sync, by the worker,
// which is this file and worker.js together: so nothing is imported or exported here.
// store: {all() -> [[id, entry]], put(id, entry)}. The server keeps each id once, so sending twice does no harm.
globalThis.chockbookSending = (() => {
  const LATER = new Set([401, 403, 408, 413, 425, 429]);
  const API = "/api/v1/reports";

  // Whether everything that waited has arrived or was refused for good.
  const deliver = async (store) => {
    let clear = true;
    const waiting = (await store.all()).filter(([, entry]) => entry.state === "waiting");
    for (const [id, entry] of waiting.sort(([, a], [, b]) => a.made - b.made)) {
      const after = await one(entry);
      await store.put(id, after.state === "arrived" ? { ...after, photo: null } : after);
      if (after.state === "waiting") clear = false;
      if (after.signal === false) return false;
    }
    return clear;
  };

  // The entry as it stands after trying.
  const one = async (entry) => {
    const { id, device } = entry.body;
    let now = { ...entry, tried: Date.now(), problem: "", signal: true };
    if (!now.words) {
      now = await asked(now, API, { headers: { "Content-Type": "application/json" }, body: JSON.stringify(entry.body) });
      if (now.state !== "arrived") return now;
      now = { ...now, words: Date.now(), state: "waiting" };
    }
    if (!entry.photo) return { ...now, state: "arrived", arrived: Date.now() };
    const address = `${API}/${id}/photo?device=${encodeURIComponent(device)}`;
    const sent = await asked(now, address, { headers: { "Content-Type": "image/jpeg" }, body: entry.photo });
    // The words are there: a photo that is refused is no reason to say that nothing arrived.
    if (sent.state === "refused") return { ...sent, state: "arrived", arrived: Date.now(), noPhoto: sent.problem };
    return sent.state === "arrived" ? { ...sent, arrived: Date.now() } : sent;
  };

  const asked = async (entry, address, what) => {
    let answer;
    try {
      answer = await fetch(address, { method: "POST", credentials: "same-origin", ...what });
    } catch {
      return { ...entry, state: "waiting", signal: false };
    }
    if (answer.ok) return { ...entry, state: "arrived" };
    const told = await answer.json().catch(() => ({}));
    const problem = [told.detail, told.cure].filter(Boolean).join(" ") || `The catalogue answered ${answer.status}.`;
    const later = answer.status >= 500 || LATER.has(answer.status);
    return { ...entry, state: later ? "waiting" : "refused", problem };
  };

  return { deliver };
})();
