// The head of the desk: which calls are open, which vehicles of this one, what time it is.
import { inUse, nextLetter, said } from "./incidents.js";

const time = (moment) => new Date(moment).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

function button(className, label, act, current) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = className;
  made.append(...label);
  if (current) made.setAttribute("aria-current", "true");
  made.addEventListener("click", act);
  return made;
}

function span(className, text) {
  const made = document.createElement("span");
  made.className = className;
  made.textContent = text;
  return made;
}

// calls, vehicles: where the buttons go. words: what the page calls things. go: {vehicle(letter), call(place)}.
export function tabs({ calls, vehicles }, store, words, go) {
  const here = store.here();
  const several = store.all().length > 1;
  calls.replaceChildren(
    ...(several ? store.all() : []).map((one, place) =>
      button("call", [span("", one.number || words.call), " ", span("quiet", time(one.opened))], () => go.call(place), place === store.at()),
    ),
    ...plus(inUse(here), words.another_call, () => go.call(store.all().length)),
  );
  const letters = Object.keys(here.vehicles).sort();
  vehicles.replaceChildren(
    ...letters.map((letter) => {
      const one = here.vehicles[letter];
      const label = [span("plate", letter), span("", one.title || words.vehicle)];
      if (one.alert) label.push(span("alert", words.alert));
      return button("vehicle-tab", label, () => go.vehicle(letter), letter === here.current);
    }),
    ...plus(said(store.vehicle()) && nextLetter(here), words.another_vehicle, () => go.vehicle(nextLetter(here))),
  );
}

// For a mouse: by keyboard one goes on past the last.
function plus(may, label, act) {
  return may ? [button("call plus", [span("", "+"), " ", span("", label)], act)] : [];
}

export function clock(place) {
  const show = () => {
    place.textContent = new Date().toLocaleTimeString("en-GB");
  };
  show();
  setInterval(show, 1000);
}
