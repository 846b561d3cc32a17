// catalog/resolve/deletions.py: the same words within an edit or two, kept in a Map of forms instead of a sorted row.
const { osa } = $m["catalog.resolve.distance"];
const PREFIX = 7;

const forms = (word, deletions) => {
  let edge = new Set([word.slice(0, PREFIX)]);
  const made = new Set(edge);
  for (let turn = 0; turn < deletions; turn += 1) {
    const next = new Set();
    for (const cut of edge) for (let i = 0; i < cut.length; i += 1) next.add(cut.slice(0, i) + cut.slice(i + 1));
    for (const each of next) made.add(each);
    edge = next;
  }
  return made;
};

function DeletionTable(words, reach, long = 0) {
  if (!new.target) return new DeletionTable(words, reach, long);
  this.words = [...new Set(words)];
  this.reach = reach;
  this.filed = new Map();
  for (const word of this.words) {
    for (const form of forms(word, word.length >= long ? reach : Math.min(reach, 1))) {
      const there = this.filed.get(form);
      if (there === undefined) this.filed.set(form, [word]);
      else there.push(word);
    }
  }
}
DeletionTable.prototype.within = function (word, limit) {
  const near = new Set();
  const most = Math.min(limit, this.reach);
  for (const form of forms(word, most)) for (const each of this.filed.get(form) || []) near.add(each);
  const found = [];
  for (const each of near) {
    const distance = osa(word, each, limit);
    if (distance <= limit) found.push([distance, each]);
  }
  return found.sort((a, b) => py.cmp(a, b));
};
return { DeletionTable };
