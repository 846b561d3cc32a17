// Says once that a line is finished, when it is emptied or left, so that words nobody could read are counted
// once a description and not at every key. The line's name is random, belongs to this page, and goes with
// it through reload and coming back; nothing of the text is kept here.
const STANDS = 3000;

export function settling(form) {
  const field = form.elements.said;
  let standing = 0;
  // The longest text that stood for a while: what was typed, not what was left of it while it was erased.
  let longest = "";
  let told = "";

  const named = () => history.state?.line ?? rename();
  function rename() {
    const line = crypto.randomUUID?.() ?? String(crypto.getRandomValues(new Uint32Array(4)));
    history.replaceState({ ...history.state, line }, "");
    return line;
  }

  function tell() {
    if (!longest || longest === told) return;
    told = longest;
    navigator.sendBeacon(form.dataset.settled, new URLSearchParams({ said: longest, line: named() }));
    longest = "";
  }

  function note() {
    const text = field.value.trim();
    if (text.length > longest.length) longest = text;
  }

  field.addEventListener("input", () => {
    clearTimeout(standing);
    if (field.value.trim()) {
      standing = setTimeout(note, STANDS);
      return;
    }
    tell();
    told = "";
    rename();
  });
  addEventListener("pagehide", () => {
    note();
    tell();
  });
}
