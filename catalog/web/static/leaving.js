// Whoever signs out leaves nothing of a call behind in this browser.
document.addEventListener("submit", (event) => {
  if (!event.target.matches?.('form[action="/sign-out"]')) return;
  try {
    localStorage.removeItem("chockbook.desk");
  } catch {
    // Nothing could be kept either.
  }
});
