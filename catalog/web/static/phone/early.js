// Taps before the app's script has arrived count: the cell shows it, and taps.js takes it over.
(() => {
  const tapped = ({ target }) => {
    const cell = target.closest?.("[data-tap]");
    if (!cell) return;
    const on = cell.getAttribute("aria-pressed") === "true";
    for (const each of document.querySelectorAll(`[data-tap="${cell.dataset.tap}"]`)) each.setAttribute("aria-pressed", "false");
    cell.setAttribute("aria-pressed", String(!on));
  };
  addEventListener("click", tapped);
  addEventListener("phone:taps", () => removeEventListener("click", tapped), { once: true });
})();
