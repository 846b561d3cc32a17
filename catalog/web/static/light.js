// Day, night or glare, chosen by hand and kept on this device. Loaded before the style sheets so
// that the page never flashes in the wrong light; without a choice the device decides.
(() => {
  const key = "chockbook.light";
  const root = document.documentElement;
  const read = () => {
    try {
      return localStorage.getItem(key) || "";
    } catch {
      return "";
    }
  };
  const show = (value) => {
    if (value) root.dataset.light = value;
    else delete root.dataset.light;
  };
  show(read());
  document.addEventListener("DOMContentLoaded", () => {
    const control = document.querySelector("[data-light-switch]");
    if (!control) return;
    control.hidden = false;
    for (const choice of control.querySelectorAll("input")) {
      choice.checked = choice.value === read();
      choice.addEventListener("change", () => {
        show(choice.value);
        try {
          localStorage.setItem(key, choice.value);
        } catch {
          // A private window may refuse; the choice then holds for this page only.
        }
      });
    }
  });
})();
