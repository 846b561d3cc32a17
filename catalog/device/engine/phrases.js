// In place of what catalog/resolve/reading/phrases.py makes its tables with: the same hundred thousand sayings, as
// numbers in rows of numbers, since a phone makes them each time the app is opened.
const STEPS = 2 ** 20;
const NOTHING = -2; // -1 is a word that no saying holds

// step * STEPS + word -> next step, in open places of two rows; the steps are numbered as they come.
function Edges(size) {
  this.bits = 4;
  while (2 ** this.bits < size * 2) this.bits += 1;
  this.keys = new Float64Array(2 ** this.bits).fill(NOTHING);
  this.steps = new Int32Array(2 ** this.bits);
  this.count = 0;
}
Edges.called = "Edges";
Edges.prototype.place = function (key) {
  const step = Math.floor(key / STEPS);
  let at = (Math.imul(step, 0x9e3779b1) ^ Math.imul(key - step * STEPS, 0x85ebca6b)) >>> (32 - this.bits);
  while (this.keys[at] !== key && this.keys[at] !== NOTHING) at = (at + 1) & (this.keys.length - 1);
  return at;
};
Edges.prototype.get = function (key, other = null) {
  const at = this.place(key);
  return this.keys[at] === key ? this.steps[at] : other;
};
Edges.prototype.next = function (key) {
  const at = this.place(key);
  if (this.keys[at] === NOTHING) {
    this.count += 1;
    this.keys[at] = key;
    this.steps[at] = this.count;
  }
  return this.steps[at];
};

// step -> number of what is meant there, -1 for nothing.
function Means(numbers) { this.numbers = numbers; }
Means.called = "Means";
Means.prototype.__contains__ = function (step) { return step < this.numbers.length && this.numbers[step] >= 0; };
Means.prototype.__getitem__ = function (step) { return this.numbers[step]; };

// Words as they are met in the tables; a number is given to each when a saying first holds it, as in Python.
const symbols = new Map();
const wordOf = [];
const symbol = (word) => {
  let found = symbols.get(word);
  if (found === undefined) {
    found = wordOf.length;
    symbols.set(word, found);
    wordOf.push(word);
  }
  return found;
};
const singulars = (text) => py.m.split(text).map((word) => symbol(singular(word)));

// The pieces of a saying, each the entries that may stand there: a saying is one entry of each, "<set>" one of many.
const pieces = (saying, sets) => {
  const start = saying.indexOf("<");
  if (start < 0) return [[singulars(saying)]];
  const end = saying.indexOf(">", start);
  return [[singulars(saying.slice(0, start))], sets[saying.slice(start + 1, end)], ...pieces(saying.slice(end + 1), sets)];
};

// [sayings in pieces, meaning] of every row of the table of phrases, then of the table of parts.
const phraseRows = function* () {
  for (const name of FILES) {
    const document = py.file(`${DATA.path}/phrases/${name}.json`);
    const sets = Object.fromEntries(Object.entries(document.sets ?? {}).map(([key, entries]) => [key, entries.map(singulars)]));
    for (const row of document.rows) yield [row.say.map((saying) => pieces(saying, sets)), _meaning(py.fromJson(row))];
  }
};
const partRows = function* () {
  for (const row of py.file(`${DATA.path}/parts.json`).rows) {
    const kind = NOUN in row ? NOUN : LIKE;
    for (const part of row[kind].split("|")) yield [row.say.map((saying) => [[singulars(saying)]]), new Meaning(`${kind} ${part}`, [row.value])];
  }
};

// Of the pieces from each place on: how many sayings they make, and how many words are walked for them at most.
const counts = (saying) => {
  if (saying.length === 1) return [[1, saying[0][0].length], [1, 0]];
  const made = [[1, 0]];
  for (const entries of [...saying].reverse()) {
    const [many, words] = made[0];
    made.unshift([entries.length * many, entries.reduce((sum, entry) => sum + entry.length + words, 0)]);
  }
  return made;
};

// Sayings that begin alike are walked together, in the order in which they would come one by one.
const table = (rows, numbers, ids, uses, alone) => {
  const all = [...rows].map(([sayings, meaning]) => [sayings.map((saying) => [saying, counts(saying)]), meaning]);
  const edges = new Edges(all.reduce((sum, [sayings]) => sum + sayings.reduce((n, [, made]) => n + made[0][1], 0), 0));
  // Meanings and what is meant at a step, each known by a number.
  const [meanings, meaningOf, lists, listOf] = [[], new Map(), [], new Map()];
  const meant = new Int32Array(edges.keys.length).fill(-1);
  const order = [];
  let said = 0;
  const endsAt = (step) => {
    const before = meant[step];
    if (before < 0) order.push(step);
    else if (lists[before].includes(said)) return;
    // What was meant there, and this besides: a number for each such list.
    const name = (before + 1) * STEPS + said;
    let list = listOf.get(name);
    if (list === undefined) {
      list = lists.length;
      listOf.set(name, list);
      lists.push(before < 0 ? [said] : [...lists[before], said]);
    }
    meant[step] = list;
  };
  const walk = (saying, made, place, from, words, last) => {
    if (place === saying.length) {
      if (words === 1) alone?.add(wordOf[last]);
      return endsAt(from);
    }
    const [many] = made[place + 1];
    for (const entry of saying[place]) {
      let step = from;
      for (const each of entry) {
        let number = numbers[each];
        if (number === undefined) { number = ids.length; numbers[each] = number; ids.push(each); uses[each] = 0; }
        uses[each] += many;
        step = edges.next(step * STEPS + number);
      }
      walk(saying, made, place + 1, step, words + entry.length, entry.length ? entry[entry.length - 1] : last);
    }
  };
  for (const [sayings, meaning] of all) {
    const key = py.keyOf(meaning);
    if (!meaningOf.has(key)) { meaningOf.set(key, meanings.length); meanings.push(meaning); }
    said = meaningOf.get(key);
    for (const [saying, made] of sayings) walk(saying, made, 0, 0, 0, -1);
  }
  const kinds = [...new Set(order.map((step) => meant[step]))];
  const kindOf = new Map(kinds.map((list, number) => [list, number]));
  const means = new Int32Array(edges.count + 1).fill(-1);
  for (const step of order) means[step] = kindOf.get(meant[step]);
  return [edges, new Means(means), kinds.map((list) => lists[list].map((number) => meanings[number]))];
};

const _tables = py.cache(() => {
  const [numbers, ids, uses, alone] = [[], [], [], py.set()];
  const made = [table(phraseRows(), numbers, ids, uses, alone), table(partRows(), numbers, ids, uses, null)];
  const counted = (value) => py.dict(ids.map((each, number) => [wordOf[each], value(each, number)]));
  const numbered = counted((_, number) => number);
  const spelling = Spelling.of(counted((each) => uses[each]), alone);
  return made.map((each) => new PhraseTable(numbered, ...each, spelling));
});
