// The scene bar. A tapped cell opens a tray of three answers; tapping a cell never changes an
// answer. The port line and the port's step follow from the answers; until fire and water are
// "no" the cautious words stand. Words live in the page, only their choice here.

// answers: {fire, water, plugged, damaged}, each "yes", "no" or "unsaid".
export function portState(answers) {
  const { fire, water, plugged, damaged } = answers;
  if (fire === "yes" || water === "yes" || damaged === "yes") return "leave";
  if (plugged === "yes") return "occupied";
  if (fire !== "no" || water !== "no") return "only-if";
  return damaged === "no" ? "clear" : "check";
}

// What a cell is called in the scene of the steps.
const FIELDS = { fire: "fire", water: "water", plugged: "charger_attached", damaged: "port_damaged" };

export function sceneBar(bar) {
  if (!bar) return;
  bar.hidden = false;
  const cells = [...bar.querySelectorAll("[data-cell]")];
  const trays = [...bar.querySelectorAll("[data-tray]")];
  const tray = (cell) => document.getElementById(cell.getAttribute("aria-controls"));

  function open(cell) {
    for (const other of cells) {
      const shown = other === cell;
      other.setAttribute("aria-expanded", String(shown));
      tray(other).hidden = !shown;
    }
    if (cell) tray(cell).querySelector("[aria-pressed=true]").focus();
  }

  function answer(cell, button) {
    cell.dataset.answer = button.dataset.value;
    cell.querySelector(".answer").textContent = button.dataset.shown;
    for (const other of tray(cell).querySelectorAll("[data-value]")) {
      other.setAttribute("aria-pressed", String(other === button));
    }
    open(null);
    cell.focus();
    show();
  }

  function show() {
    const answers = Object.fromEntries(cells.map((cell) => [cell.dataset.cell, cell.dataset.answer]));
    const state = portState(answers);
    document.querySelector("[data-port]").dataset.port = state;
    for (const part of document.querySelectorAll("[data-when]")) {
      part.hidden = !part.dataset.when.split(" ").includes(state);
    }
    for (const part of document.querySelectorAll("[data-on]")) part.hidden = answers[part.dataset.on] !== "yes";
    leadOn(answers);
    document.querySelector("[data-port-step]")?.classList.toggle("struck", state === "leave");
  }

  // The steps of their own page are those for the scene as it is answered here.
  function leadOn(answers) {
    const link = document.querySelector("[data-steps]");
    if (!link) return;
    const known = Object.entries(answers).filter(([key, answer]) => answer !== "unsaid" && FIELDS[key]);
    const query = new URLSearchParams(known.map(([key, answer]) => ["scene", `${FIELDS[key]}=${answer}`]));
    link.search = query.toString();
  }

  for (const cell of cells) {
    cell.addEventListener("click", () => open(cell.getAttribute("aria-expanded") === "true" ? null : cell));
    for (const button of tray(cell).querySelectorAll("[data-value]")) {
      button.addEventListener("click", () => answer(cell, button));
    }
  }
  bar.addEventListener("keydown", (event) => {
    const cell = cells.find((one) => one.getAttribute("aria-expanded") === "true");
    if (event.key !== "Escape" || !cell) return;
    open(null);
    cell.focus();
  });
  // A page brought back from memory starts from "not said": what was true then may not be now.
  addEventListener("pageshow", (event) => {
    if (!event.persisted) return;
    for (const [place, one] of trays.entries()) answer(cells[place], one.querySelector("[data-value=unsaid]"));
  });
  show();
}
