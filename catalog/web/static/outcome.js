// What it turned out to be: sent without leaving the page, and once from the record that was opened.
const KEPT = "chockbook.cues";

async function sent(body) {
  const answer = await fetch("/outcomes", { method: "POST", body, keepalive: true });
  if (!answer.ok) throw new Error(String(answer.status));
  const html = new DOMParser().parseFromString(await answer.text(), "text/html");
  return html.querySelector("h1").textContent;
}

// On the search pages: buttons send in place, and a record that is opened may confirm what was understood here.
export function outcomes() {
  document.addEventListener("submit", async (event) => {
    const form = event.target.closest?.("[data-outcome]");
    if (!form) return;
    event.preventDefault();
    const said = form.querySelector("[data-outcome-said]");
    try {
      said.textContent = await sent(new URLSearchParams(new FormData(form, event.submitter)));
    } catch {
      said.textContent = form.dataset.outcome;
    }
  });
  document.addEventListener("click", (event) => {
    const form = document.querySelector("[data-outcome]");
    if (!form || !event.target.closest?.('a[href^="/records/"]')) return;
    const { id, edition, cues, csrf_token } = Object.fromEntries(new FormData(form));
    sessionStorage.setItem(KEPT, JSON.stringify({ id, edition, cues, csrf_token }));
  });
}

// On a record opened from a search: the answer to "badge reads?" is an outcome as well.
export function confirmedOutcome(bar) {
  const kept = sessionStorage.getItem(KEPT);
  if (!bar || !kept) return;
  const send = (outcome) => {
    sessionStorage.removeItem(KEPT);
    const body = new URLSearchParams({ ...JSON.parse(kept), outcome: `${outcome}:badge:${bar.dataset.code}` });
    sent(body).then((said) => (document.querySelector("[data-outcome-said]").textContent = said), () => {});
  };
  const yes = bar.querySelector("[data-confirmed]");
  yes.textContent = bar.dataset.badgeConfirmed;
  yes.addEventListener("click", () => send("confirmed"));
  bar.querySelector("[data-not-this]").addEventListener("click", () => send("not_this"));
}
