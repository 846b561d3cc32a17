// First tap: is it this vehicle? "Yes" puts the question away. What it notes is outcome.js's.
export function confirmBar(bar) {
  if (!bar) return;
  const yes = bar.querySelector("[data-confirmed]");
  yes.hidden = false;
  yes.addEventListener("click", () => {
    bar.remove();
    document.getElementById("main").focus();
  });
}
