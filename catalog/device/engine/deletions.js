// catalog/resolve/deletions.py: the same words within an edit or two, kept in a Map of forms instead of a sorted row. A
// form is known by a number made of its letters; where two forms share one, the distance tells their words apart.
const { osa } = $m["catalog.resolve.distance"];
const PREFIX = 7;

// The numbers of the word's beginning without any so many of its letters.
const forms = (word, deletions) => {
  const made = [];
  const length = Math.min(word.length, PREFIX);
  const next = (number, at, left) => {
    if (at === length) {
      made.push(number);
      return;
    }
    next((Math.imul(number, 0x01000193) ^ word.charCodeAt(at)) >>> 0, at + 1, left);
    if (left > 0) next(number, at + 1, left - 1);
  };
  next(0x811c9dc5, 0, deletions);
  return made;
};

// Form and word as one number, form first: sorted, the words of a form stand together.
const WORDS = 2 ** 20;

function DeletionTable(words, reach, long = 0) {
  if (!new.target) return new DeletionTable(words, reach, long);
  this.words = [...new Set(words)];
  this.reach = reach;
  const filed = [];
  this.words.forEach((word, place) => {
    for (const form of forms(word, word.length >= long ? reach : Math.min(reach, 1))) filed.push(form * WORDS + place);
  });
  this.filed = Float64Array.from(filed).sort();
}
DeletionTable.prototype.of = function* (form) {
  let [from, to] = [0, this.filed.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (this.filed[middle] < form * WORDS) from = middle + 1;
    else to = middle;
  }
  for (; this.filed[from] < (form + 1) * WORDS; from += 1) yield this.words[this.filed[from] - form * WORDS];
};
DeletionTable.prototype.within = function (word, limit) {
  const near = new Set();
  const most = Math.min(limit, this.reach);
  for (const form of forms(word, most)) for (const each of this.of(form)) near.add(each);
  const found = [];
  for (const each of near) {
    const distance = osa(word, each, limit);
    if (distance <= limit) found.push([distance, each]);
  }
  return found.sort((a, b) => py.cmp(a, b));
};
return { DeletionTable };
