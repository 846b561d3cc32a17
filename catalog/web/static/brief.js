// The brief: composed and kept with one key, copied with another, read back with a third. Its letter keys act
// only while the pane has the keyboard, which F4 gives it.
const EVERY = 15000; // milliseconds between looks at what became of the briefs

export function briefs(form, store, words, { pairs, drawn }) {
  const pane = document.querySelector("[data-brief-pane]");
  const place = pane.querySelector('[data-part="sent"]');
  const draft = () => pane.querySelector("[data-draft]");
  const last = () => store.vehicle().sent.at(-1);
  const token = () => form.elements.csrf_token?.value ?? "";
  // The same request under the same key is kept once, however often it is sent.
  let key = "";
  let keyFor = "";
  let busy = false;

  const post = (path, body) =>
    fetch(path, { method: "POST", body, headers: token() ? { "X-CSRF-Token": token() } : {} });

  // Whether the draft reads otherwise than it did when the last brief was composed: a correction has words of its own.
  const changed = () => Boolean(last()) && Boolean(draft()) && last().drafted !== draft().dataset.radio;

  function show() {
    const html = last()?.html ?? "";
    if (place.dataset.shown !== html) {
      place.innerHTML = html;
      place.dataset.shown = html;
    }
    compare();
  }

  function compare() {
    pane.dataset.state = !last() ? "draft" : changed() ? "changed" : "kept";
  }

  // Danger and line stay where they are.
  const focus = () => pane.focus({ preventScroll: true });

  function say(text) {
    pane.querySelector("[data-pane-said]").textContent = text;
  }

  // F4: to the pane; a first brief is composed at once, a correction only from within the pane.
  function go() {
    const inside = pane.contains(document.activeElement);
    focus();
    if (!last() || (inside && changed())) compose();
  }

  async function compose() {
    if (busy) return;
    busy = true;
    const body = new URLSearchParams(pairs());
    const before = last()?.id;
    if (before) body.set("follows", before);
    if (last()) body.set("again", "1");
    if (store.here().number) body.set("incident", store.here().number);
    const asked = body.toString();
    if (asked !== keyFor) [key, keyFor] = [random(), asked];
    body.set("key", key);
    const [vehicle, call, drafted] = [store.vehicle(), store.here(), draft()?.dataset.radio ?? ""];
    try {
      let answer = await post(token() ? form.dataset.brief : form.dataset.unstored, body);
      // A sign-in that has ended keeps nobody from a brief: it is marked then.
      if (token() && answer.status >= 400 && answer.status < 500) answer = await post(form.dataset.unstored, body);
      const html = await answer.text();
      const made = new DOMParser().parseFromString(html, "text/html");
      const kept = made.querySelector("[data-kept]");
      if (kept) {
        const { id, incident } = kept.dataset;
        vehicle.sent.push({ id, drafted, html: made.querySelector('[data-part="sent"]').innerHTML.trim(), at: Date.now() });
        if (incident) call.number = incident;
        store.save();
        drawn();
        if (store.vehicle() === vehicle) show();
      } else say(made.querySelector(".banner")?.textContent.trim() || words.unkept);
    } catch {
      say(words.unkept);
    }
    busy = false;
    if (pane.contains(document.activeElement) || document.activeElement === document.body) focus();
  }

  async function copy(what) {
    const text = pane.querySelector(`[data-text="${what}"]`)?.textContent ?? draft()?.dataset.radio;
    if (!text) return;
    const done = await toClipboard(what === "link" ? new URL(text, location.href).href : text, pane);
    const old = last() && changed() ? ` ${words.copied_old}` : "";
    say(done ? words.copied.replace("{what}", what) + old : words.uncopied);
    if (done) became("sent", { id: last()?.id ?? "", form: what });
  }

  function askBack() {
    const line = pane.querySelector("[data-who-back]");
    line.hidden = false;
    line.querySelector("input").focus();
  }

  async function noteBack() {
    const who = pane.querySelector("#who-back").value.trim();
    if (!who) return;
    const done = await became("read-back", { id: last()?.id ?? "", who });
    if (done) pane.querySelector("[data-who-back]").hidden = true;
    say(done ? words.noted : words.unnoted);
    focus();
  }

  // Notes what was done with a brief and shows what became of it. Whether it was noted.
  async function became(what, given) {
    if (!given.id) return false;
    try {
      const answer = await post(`${form.dataset.brief}/${what}`, new URLSearchParams(given));
      if (!answer.ok) return false;
      take(await answer.text());
      return true;
    } catch {
      return false;
    }
  }

  // Parts of briefs as they stand now, for whichever vehicle and call they belong to.
  function take(html) {
    const made = new DOMParser().parseFromString(html, "text/html");
    for (const fresh of made.querySelectorAll("[data-became]")) {
      for (const call of store.all()) {
        for (const vehicle of Object.values(call.vehicles)) {
          const one = vehicle.sent.find((each) => each.id && each.id === fresh.dataset.became);
          if (!one) continue;
          const whole = new DOMParser().parseFromString(one.html, "text/html");
          whole.querySelector("[data-became]").innerHTML = fresh.innerHTML;
          one.html = whole.body.innerHTML;
          if (vehicle.sent.at(-1) === one) vehicle.alert = Boolean(fresh.querySelector("[data-newer]"));
        }
      }
      const shown = place.querySelector(`[data-became="${fresh.dataset.became}"]`);
      if (shown && shown.innerHTML !== fresh.innerHTML) shown.innerHTML = fresh.innerHTML;
    }
    store.keep();
    drawn();
  }

  async function look() {
    const ids = store.all().flatMap((call) => Object.values(call.vehicles).map((one) => one.sent.at(-1)?.id)).filter(Boolean);
    if (!ids.length || !token() || document.hidden) return;
    try {
      const answer = await post(`${form.dataset.brief}/now`, new URLSearchParams(ids.map((id) => ["id", id])));
      if (answer.ok) take(await answer.text());
    } catch {
      // Away: looked for again.
    }
  }

  pane.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-copy], [data-back], [data-note-back], [data-compose]");
    if (!button) return;
    event.preventDefault();
    if (button.dataset.copy) copy(button.dataset.copy);
    else if ("back" in button.dataset) askBack();
    else if ("noteBack" in button.dataset) noteBack();
    else compose();
  });

  pane.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    const typing = event.target.matches("input");
    if (typing && event.key === "Enter") noteBack();
    else if (!typing && /^[a-z]$/i.test(event.key)) {
      const button = pane.querySelector(`[data-key="${event.key.toLowerCase()}"]`);
      if (button) button.click();
      else if (event.key.toLowerCase() === "r") copy("radio");
    } else return;
    event.preventDefault();
    event.stopPropagation();
  });

  setInterval(look, EVERY);
  return { go, show, compare, look };
}

const random = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");

// Without a secure connection there is only the older way.
async function toClipboard(text, pane) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const field = document.createElement("textarea");
    field.value = text;
    pane.append(field);
    field.select();
    const done = document.execCommand("copy");
    field.remove();
    pane.focus({ preventScroll: true });
    return done;
  }
}
