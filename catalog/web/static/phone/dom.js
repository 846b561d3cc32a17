// Elements without markup in strings: what a record or a crew says is always text here.

// el("p", { class: "quiet", onclick: go }, "words", node, null). An attribute that is true stands without a value;
// one that is false, null or undefined does not stand; on... is a listener.
export function el(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else made.setAttribute(name, value === true ? "" : String(value));
  }
  made.append(...there(children));
  return made;
}

const there = (children) => children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false);

// Take everything out of a node, and put these in.
export function clear(node, ...children) {
  node.replaceChildren(...there(children));
  return node;
}

// As el, of a drawing; every attribute stands.
export function svg(tag, attributes = {}, ...children) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

// A drawing that our own code wrote as a text (catalog/draw/svg.py), as a node.
export function drawing(markup) {
  const named = markup.includes("xmlns=") ? markup : markup.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"');
  const made = new DOMParser().parseFromString(named, "image/svg+xml").documentElement;
  if (made.nodeName !== "svg") throw new Error("not a drawing");
  return document.importNode(made, true);
}
