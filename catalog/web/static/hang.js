// Hangs meanings below their words on leaders. Level 1 if the label ends before the next leader,
// otherwise deeper; a leader never crosses a label. Where that cannot be done (the line wraps, or
// three levels are not enough) the plain list under the line is shown instead.
import { held, hold } from "./chips.js";

const STEP = 24;
const GAP = 4;

// labels: {x: leader, start, end: extent of the label}, in reading order. Returns a level (from 1)
// for each, the shallowest that works from the right, or null when `deepest` levels do not suffice.
export function levels(labels, deepest) {
  const made = new Array(labels.length).fill(0);
  const settle = (place) => {
    if (place < 0) return true;
    for (let level = 1; level <= deepest; level += 1) {
      made[place] = level;
      const fits = labels.every((label, later) => later <= place || clear(labels[place], level, label, made[later]));
      if (fits && settle(place - 1)) return true;
    }
    return false;
  };
  return settle(labels.length - 1) ? made : null;
}

// Whether two labels keep clear of each other and of each other's leaders.
function clear(one, level, other, otherLevel) {
  const crosses = (leader, label) => leader.x >= label.start && leader.x < label.end;
  if (crosses(other, one) && level <= otherLevel) return false;
  if (crosses(one, other) && otherLevel <= level) return false;
  return level !== otherLevel || one.end <= other.start || other.end <= one.start;
}

export function hang(form) {
  const chip = held();
  const strip = form.querySelector(".hang");
  const words = [...form.querySelectorAll(".mirror [data-meanings]")];
  bring(strip);
  if (words.length && matchMedia("(min-width: 900px)").matches && document.body.matches(".desk")) put(strip, words);
  hold(chip);
}

// Each thing understood has one list, which is moved to its word and back to its line.
function bring(strip) {
  for (const chip of strip.querySelectorAll("[data-home]")) {
    const home = document.querySelector(`[data-meaning="${chip.dataset.home}"] .said`);
    if (home && !home.firstChild) home.append(chip);
  }
  strip.replaceChildren();
  strip.className = "hang";
  document.body.classList.remove("hung-on");
}

function put(strip, words) {
  strip.className = "hang hung";
  const made = measure(strip, words);
  const depth = oneLine(words) ? levels(made, 3) : null;
  if (!depth) {
    bring(strip);
    return;
  }
  made.forEach((label, place) => draw(label, depth[place]));
  strip.classList.toggle("deep", Math.max(...depth) > 2);
  document.body.classList.add("hung-on");
}

function oneLine(words) {
  const mirror = words[0].closest(".mirror");
  const style = getComputedStyle(mirror);
  const text = mirror.scrollHeight - parseFloat(style.paddingTop) - parseFloat(style.paddingBottom);
  return text < parseFloat(style.lineHeight) * 1.5;
}

function measure(strip, words) {
  const frame = strip.getBoundingClientRect();
  return words.map((word) => {
    const tag = document.createElement("div");
    tag.className = "tag";
    for (const place of word.dataset.meanings.split(" ")) {
      const chip = document.querySelector(`[data-meaning="${place}"] .chip`);
      if (!chip) continue;
      chip.dataset.home = place;
      tag.append(chip);
    }
    strip.append(tag);
    const x = word.getClientRects()[0].left - frame.left;
    const width = tag.offsetWidth;
    const start = Math.min(x, frame.width - width);
    return { tag, x, start, end: start + width + GAP };
  });
}

function draw(label, level) {
  const leader = document.createElement("div");
  leader.className = "leader";
  leader.style.left = `${label.x}px`;
  leader.style.height = `${14 + level * STEP}px`;
  label.tag.style.left = `${label.start}px`;
  label.tag.style.top = `${4 + (level - 1) * STEP}px`;
  label.tag.before(leader);
}
