// What the translated engine uses of Python, and no more. Text: a character is one UTF-16 unit; `py.plainText` makes
// every character outside the basic plane one placeholder, so that places in a text count as in Python.
const py = (() => {
  const py = {};
  const own = Object.prototype.hasOwnProperty;

  // Equality, order, and what a value is filed under.

  py.error = (kind, told = "") => Object.assign(new Error(`${kind}: ${told}`), { kind });
  py.raised = py.error;

  const keyOf = (x) => {
    if (typeof x === "string" || typeof x === "number") return x;
    if (x === null || x === undefined) return "\u0000n";
    if (typeof x === "boolean") return x ? 1 : 0;
    if (Array.isArray(x)) {
      let made = "\u0001";
      for (const each of x) {
        let key = keyOf(each);
        if (typeof key === "object") key = `\u0004${py.id(key)}`; // by identity
        made += typeof key === "number" ? `#${key},` : `${key.length}:${key},`;
      }
      return made;
    }
    if (x instanceof PySet) return "\u0003" + [...x].map(keyOf).map(String).sort().join("\u0002");
    const fields = x.constructor && x.constructor.fields;
    if (fields && !x.constructor.alone) {
      if (own.call(x, "$key")) return x.$key;
      const key = `\u0002${x.constructor.called}${keyOf(fields.map((field) => x[field]))}`;
      Object.defineProperty(x, "$key", { value: key, configurable: true });
      return key;
    }
    return x; // by identity
  };
  py.keyOf = keyOf;

  py.eq = (a, b) => {
    if (a === b) return true;
    if (a === null || a === undefined) return b === null || b === undefined;
    if (typeof a !== "object" || typeof b !== "object" || b === null) return a === b;
    if (Array.isArray(a)) {
      if (!Array.isArray(b) || a.length !== b.length) return false;
      for (let i = 0; i < a.length; i += 1) if (!py.eq(a[i], b[i])) return false;
      return true;
    }
    if (a instanceof PySet) return b instanceof PySet && a.size === b.size && [...a].every((x) => b.has(x));
    if (a instanceof PyDict) {
      return b instanceof PyDict && a.size === b.size && a.items().every(([k, v]) => b.has(k) && py.eq(b.get(k), v));
    }
    const fields = a.constructor && a.constructor.fields;
    if (!fields || a.constructor.alone || b.constructor !== a.constructor) return false;
    return fields.every((field) => py.eq(a[field], b[field]));
  };

  py.cmp = (a, b) => {
    if (typeof a === "number" || typeof a === "string") return a < b ? -1 : a > b ? 1 : 0;
    if (typeof a === "boolean") return Number(a) - Number(b);
    if (Array.isArray(a) && Array.isArray(b)) {
      const shared = Math.min(a.length, b.length);
      for (let i = 0; i < shared; i += 1) {
        if (!py.eq(a[i], b[i])) return py.cmp(a[i], b[i]);
      }
      return a.length - b.length;
    }
    const fields = a && a.constructor && a.constructor.fields;
    if (fields) return py.cmp(fields.map((f) => a[f]), fields.map((f) => b[f]));
    throw py.error("TypeError", "these have no order");
  };
  const below = (a, b) => {
    if (a instanceof PySet) return [...a].every((x) => b.has(x));
    return null;
  };
  py.lt = (a, b) => (typeof a === "number" ? a < b : a instanceof PySet ? below(a, b) && a.size < b.size : py.cmp(a, b) < 0);
  py.le = (a, b) => (typeof a === "number" ? a <= b : a instanceof PySet ? below(a, b) : py.cmp(a, b) <= 0);
  py.gt = (a, b) => py.lt(b, a);
  py.ge = (a, b) => py.le(b, a);

  py.t = (x) => {
    if (typeof x === "boolean") return x;
    if (x === null || x === undefined) return false;
    if (typeof x === "string") return x.length > 0;
    if (typeof x === "number") return x !== 0;
    if (Array.isArray(x)) return x.length > 0;
    if (x instanceof PySet || x instanceof PyDict) return x.size > 0;
    if (typeof x.__bool__ === "function") return x.__bool__();
    if (typeof x.__len__ === "function") return x.__len__() > 0;
    return true;
  };
  py.and = (a, b) => (py.t(a) ? b() : a);
  py.or = (a, b) => (py.t(a) ? a : b());

  // Sets and dictionaries: equal things are one.

  class PySet {
    constructor(from) {
      this.kept = new Map();
      if (from !== undefined) for (const x of py.each(from)) this.kept.set(keyOf(x), x);
    }
    get size() { return this.kept.size; }
    has(x) { return this.kept.has(keyOf(x)); }
    add(x) { const key = keyOf(x); if (!this.kept.has(key)) this.kept.set(key, x); return null; }
    delete(x) { this.kept.delete(keyOf(x)); return null; }
    [Symbol.iterator]() { return this.kept.values(); }
  }
  // flat: as long as every key is a text or a number it is filed under itself, without an entry around its value.
  class PyDict {
    constructor(pairs) {
      this.kept = new Map();
      this.flat = true;
      this.missing = null;
      if (pairs !== undefined) for (const [k, v] of pairs) this.put(k, v);
    }
    get size() { return this.kept.size; }
    has(k) { return this.kept.has(keyOf(k)); }
    put(k, v = null) {
      if (this.flat) {
        if (typeof k === "string" || typeof k === "number") { this.kept.set(k, v); return; }
        this.kept = new Map([...this.kept].map((pair) => [pair[0], pair]));
        this.flat = false;
      }
      const key = keyOf(k);
      const entry = this.kept.get(key);
      if (entry === undefined) this.kept.set(key, [k, v]);
      else entry[1] = v;
    }
    get(k, other = null) {
      const found = this.kept.get(typeof k === "string" || typeof k === "number" ? k : keyOf(k));
      return found === undefined ? other : this.flat ? found : found[1];
    }
    at(k) {
      const found = this.kept.get(keyOf(k));
      if (found !== undefined) return this.flat ? found : found[1];
      if (this.missing === null) throw py.error("KeyError", String(k));
      const made = this.missing();
      this.put(k, made);
      return made;
    }
    drop(k) { this.kept.delete(keyOf(k)); }
    keys() { return new PySet(this); }
    values() { return this.flat ? [...this.kept.values()] : Array.from(this.kept.values(), (entry) => entry[1]); }
    items() { return this.flat ? [...this.kept] : Array.from(this.kept.values(), (entry) => [entry[0], entry[1]]); }
    [Symbol.iterator]() { return this.flat ? this.kept.keys() : firsts(this.kept.values()); }
  }
  function* firsts(entries) { for (const entry of entries) yield entry[0]; }
  py.Set = PySet;
  py.Dict = PyDict;
  py.set = (from) => new PySet(from);
  py.frozenset = (from) => (from instanceof PySet ? from : new PySet(from));
  py.dict = (from) => {
    if (from === undefined) return new PyDict();
    return new PyDict(from instanceof PyDict ? from.items() : py.each(from));
  };
  py.dict_fromkeys = (keys, value = null) => new PyDict([...py.each(keys)].map((key) => [key, value]));
  py.defaultdict = (missing) => { const made = new PyDict(); made.missing = missing; return made; };
  py.Counter = (from) => {
    const made = new PyDict();
    made.missing = () => 0;
    if (from !== undefined) for (const x of py.each(from)) made.put(x, made.get(x, 0) + 1);
    return made;
  };

  py.each = (x) => {
    if (x === null || x === undefined) throw py.error("TypeError", "nothing to go through");
    return x;
  };
  py.parts = (x, count) => {
    const made = Array.isArray(x) ? x : [...py.each(x)];
    if (count >= 0 && made.length !== count) throw py.error("ValueError", `${made.length} values for ${count} names`);
    return made;
  };

  // Operators that mean several things.

  py.add = (a, b) => (Array.isArray(a) ? a.concat(b) : a + b);
  py.sub = (a, b) => {
    if (!(a instanceof PySet)) return a - b;
    const other = asSet(b);
    return new PySet([...a].filter((x) => !other.has(x)));
  };
  py.mul = (a, b) => {
    if (typeof a === "number" && typeof b === "number") return a * b;
    if (typeof a === "number") return py.mul(b, a);
    if (typeof a === "string") return a.repeat(Math.max(0, b));
    const made = [];
    for (let i = 0; i < b; i += 1) made.push(...a);
    return made;
  };
  py.div = (a, b) => (a instanceof PyPath ? a.join(b) : a / b);
  py.floordiv = (a, b) => Math.floor(a / b);
  py.mod = (a, b) => ((a % b) + b) % b;
  const asSet = (x) => (x instanceof PySet ? x : new PySet(x));
  py.bitor = (a, b) => {
    if (a instanceof PyDict) return new PyDict([...a.items(), ...b.items()]);
    if (typeof a === "object") return new PySet([...py.each(a), ...py.each(b)]);
    return typeof a === "boolean" ? a || b : a | b;
  };
  py.bitand = (a, b) => {
    if (typeof a === "object") { const other = asSet(b); return new PySet([...py.each(a)].filter((x) => other.has(x))); }
    return typeof a === "boolean" ? a && b : a & b;
  };
  py.bitxor = (a, b) => (typeof a === "boolean" ? a !== Boolean(b) : a ^ b);
  py.in = (x, y) => {
    if (typeof y === "string") return y.includes(x);
    if (y instanceof PySet || y instanceof PyDict) return y.has(x);
    if (Array.isArray(y)) return typeof x === "object" ? y.some((each) => py.eq(each, x)) : y.includes(x);
    if (typeof y.__contains__ === "function") return y.__contains__(x);
    for (const each of py.each(y)) if (py.eq(each, x)) return true;
    return false;
  };
  py.at = (x, i) => {
    if (Array.isArray(x) || typeof x === "string") {
      const found = x[i < 0 ? x.length + i : +i];
      if (found === undefined) throw py.error("IndexError", String(i));
      return found;
    }
    if (x instanceof PyDict) return x.at(i);
    return x.__getitem__(i);
  };
  py.put = (x, i, value) => {
    if (Array.isArray(x)) x[i < 0 ? x.length + i : i] = value;
    else x.put(i, value);
  };
  py.drop = (x, i) => { if (Array.isArray(x)) x.splice(i < 0 ? x.length + i : i, 1); else x.drop(i); };
  py.slice = (x, from, to, step = 1) => {
    if (step === 1) return x.slice(from === null ? 0 : from, to === null ? undefined : to);
    const made = [];
    if (step > 0) {
      const all = [...x].slice(from === null ? 0 : from, to === null ? undefined : to);
      for (let i = 0; i < all.length; i += step) made.push(all[i]);
    } else {
      const first = from === null ? x.length - 1 : from < 0 ? x.length + from : Math.min(from, x.length - 1);
      const last = to === null ? -1 : to < 0 ? x.length + to : to;
      for (let i = first; i > last; i += step) made.push(x[i]);
    }
    return typeof x === "string" ? made.join("") : made;
  };
  const place = (x, i) => (i < 0 ? Math.max(0, x.length + i) : Math.min(i, x.length));
  py.splice = (x, from, to, values) => {
    const start = from === null ? 0 : place(x, from);
    const end = to === null ? x.length : Math.max(start, place(x, to));
    x.splice(start, end - start, ...py.each(values));
  };

  // With rows of numbers on one side the operators are elementwise (np.js); where there are none, nothing is asked.

  py.rows = (np) => {
    const isRows = (x) => x instanceof np.Rows;
    for (const name of ["add", "sub", "mul", "div", "mod", "floordiv", "bitand", "bitor", "bitxor", "lt", "le", "gt", "ge"]) {
      const plain = py[name];
      py[name] = (a, b) => (isRows(a) || isRows(b) ? np.ops[name](a, b) : plain(a, b));
    }
    py.pow = (a, b) => (isRows(a) || isRows(b) ? np.ops.pow(a, b) : a ** b);
    py.same = (a, b) => (isRows(a) || isRows(b) ? np.ops.same(a, b) : py.eq(a, b));
    py.other = (a, b) => (isRows(a) || isRows(b) ? np.ops.other(a, b) : !py.eq(a, b));
    py.neg = (a) => (isRows(a) ? np.ops.neg(a) : -a);
    py.invert = (a) => (isRows(a) ? np.ops.invert(a) : ~a);
    py.matmul = np.dot;
    const [at, put, slice, len, abs] = [py.at, py.put, py.slice, py.len, py.abs];
    py.at = (x, i) => (isRows(x) ? np.at(x, i) : at(x, i));
    py.put = (x, i, v) => {
      if (isRows(x)) np.put(x, i, v);
      else if (Array.isArray(x) && i.cut) py.splice(x, ...i.cut, v);
      else put(x, i, v);
    };
    py.slice = (x, from, to, step) => (isRows(x) ? np.at(x, { cut: [from, to] }) : slice(x, from, to, step));
    py.abs = (x) => (isRows(x) ? np.abs(x) : abs(x));
    // In place: whoever else holds the rows sees it.
    py.onto = (x, made) => {
      if (!isRows(x)) return made;
      x.data.set(made.data);
      return x;
    };
  };
  py.cut = (from, to) => ({ cut: [from, to] });
  py.pair = (...parts) => Object.assign(parts, { pair: true });

  // Built-in functions.

  py.len = (x) => {
    if (typeof x === "string" || Array.isArray(x)) return x.length;
    return x instanceof PySet || x instanceof PyDict ? x.size : x.__len__();
  };
  py.range = (a, b, step = 1) => {
    const [from, to] = b === undefined ? [0, a] : [a, b];
    const made = [];
    if (step > 0) for (let i = from; i < to; i += step) made.push(i);
    else for (let i = from; i > to; i += step) made.push(i);
    return made;
  };
  py.enumerate = (x, start = 0) => { let i = start - 1; return [...py.each(x)].map((each) => { i += 1; return [i, each]; }); };
  py.zip = (...many) => {
    const rows = many.map((each) => [...py.each(each)]);
    const shortest = Math.min(...rows.map((row) => row.length));
    return py.range(shortest === Infinity ? 0 : shortest).map((i) => rows.map((row) => row[i]));
  };
  py.map = (f, ...many) => (many.length === 1 ? [...py.each(many[0])].map((x) => f(x)) : py.zip(...many).map((row) => f(...row)));
  py.filter = (f, x) => [...py.each(x)].filter((each) => py.t(f === null ? each : f(each)));
  py.list = (x) => (x === undefined ? [] : [...py.each(x)]);
  py.tuple = py.list;
  py.next = (x, ...other) => {
    const found = (typeof x.next === "function" ? x : x[Symbol.iterator]()).next();
    if (!found.done) return found.value;
    if (other.length) return other[0];
    throw py.error("StopIteration");
  };
  py.any = (x) => { for (const each of py.each(x)) if (py.t(each)) return true; return false; };
  py.all = (x) => { for (const each of py.each(x)) if (!py.t(each)) return false; return true; };
  py.sum = (x, start = 0) => { let made = start; for (const each of py.each(x)) made = py.add(made, each === true ? 1 : each === false ? 0 : each); return made; };
  py.sorted = ({ key = null, reverse = false }, x) => {
    const rows = [...py.each(x)].map((each) => [key === null ? each : key(each), each]);
    rows.sort((a, b) => (reverse ? py.cmp(b[0], a[0]) : py.cmp(a[0], b[0])));
    return rows.map((row) => row[1]);
  };
  const extreme = (sign) => ({ key = null, default: other }, ...given) => {
    const all = given.length === 1 ? [...py.each(given[0])] : given;
    if (!all.length) {
      if (other === undefined) throw py.error("ValueError", "nothing to choose from");
      return other;
    }
    let best = all[0];
    let bestKey = key === null ? best : key(best);
    for (const each of all.slice(1)) {
      const other_ = key === null ? each : key(each);
      if (sign * py.cmp(other_, bestKey) > 0) { best = each; bestKey = other_; }
    }
    return best;
  };
  py.max = extreme(1);
  py.min = extreme(-1);
  py.abs = Math.abs;
  py.bool = (x) => py.t(x);
  py.int = (x = 0, base = 10) => {
    if (typeof x === "string") {
      const made = parseInt(x, base);
      if (!Number.isSafeInteger(made)) throw py.error("ValueError", x);
      return made;
    }
    return typeof x === "boolean" ? Number(x) : Math.trunc(x);
  };
  py.float = (x = 0) => (x === "inf" ? Infinity : x === "-inf" ? -Infinity : Number(x));
  py.divmod = (a, b) => [Math.floor(a / b), py.mod(a, b)];
  py.math = { ceil: Math.ceil, floor: Math.floor, log: Math.log, log1p: Math.log1p, exp: Math.exp, log2: Math.log2 };
  py.format = (x, form) => {
    if (form === "%Y-%m-%d") return x.slice(0, 10); // a time is a text here, as in JSON
    if (form === ".1f") {
      // A tie (an odd number of quarters) goes to the even digit there, and away from zero here.
      if (Math.abs(x * 4) % 2 !== 1) return x.toFixed(1);
      const low = Math.floor(x * 10);
      return ((low % 2 ? low + 1 : low) / 10).toFixed(1);
    }
    const [whole, part] = String(x).split(".");
    const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ",");
    return part === undefined ? grouped : `${grouped}.${part}`;
  };
  py.ord = (x) => x.codePointAt(0);
  py.chr = (x) => String.fromCodePoint(x);
  py.round = (x, places = 0) => {
    if (places) return Number(places === 1 ? py.format(x, ".1f") : x.toFixed(places));
    const r = Math.round(x);
    return Math.abs(x % 1) === 0.5 && r % 2 ? r - 1 : r;
  };
  py.iter = (x) => py.each(x)[Symbol.iterator]();
  py.reversed = (x) => [...py.each(x)].reverse();
  py.getattr = (x, name, other) => { const found = x[name]; return found === undefined ? other : found; };
  const numbers = new WeakMap();
  let numbered = 0;
  py.id = (x) => { if (!numbers.has(x)) { numbered += 1; numbers.set(x, numbered); } return numbers.get(x); };
  py.str = (x) => (x === undefined ? "" : x === null ? "None" : x === true ? "True" : x === false ? "False" : typeof x === "object" && x.__str__ ? x.__str__() : String(x));
  py.repr = (x) => (typeof x === "string" ? `'${x}'` : py.str(x));
  py.is = (x, kind) => {
    if (typeof kind === "function") return x instanceof kind;
    switch (kind) {
      case "str": return typeof x === "string";
      case "int": return typeof x === "boolean" || Number.isInteger(x);
      case "float": return typeof x === "number";
      case "bool": return typeof x === "boolean";
      case "tuple": case "list": case "Sequence": return Array.isArray(x);
      case "dict": case "Mapping": return x instanceof PyDict;
      case "set": case "frozenset": case "Set": return x instanceof PySet;
      default: throw py.error("TypeError", kind);
    }
  };
  py.value = (x) => (typeof x === "string" ? x : x.value);

  py.names = (dict) => Object.fromEntries(dict.items());
  py.placed = (given, names, named) => {
    for (let i = given.length; i < names.length; i += 1) given.push(named[names[i]]);
    return given;
  };

  // The standard library.

  py.bisect_left = (row, x, lo = 0, hi = row.length, key = null) => {
    let [low, high] = [lo, hi];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (py.lt(key === null ? row[middle] : key(row[middle]), x)) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  py.bisect_right = (row, x) => {
    let [low, high] = [0, row.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (py.lt(x, row[middle])) high = middle;
      else low = middle + 1;
    }
    return low;
  };
  py.accumulate = (x, start) => {
    let made = start;
    return [start, ...[...py.each(x)].map((each) => { made = py.add(made, each); return made; })];
  };
  py.pairwise = (x) => { const all = [...py.each(x)]; return all.slice(1).map((each, i) => [all[i], each]); };
  py.product = (...many) => many.reduce((rows, each) => rows.flatMap((row) => [...py.each(each)].map((x) => [...row, x])), [[]]);
  py.cache = (f, most = Infinity) => {
    const kept = new Map();
    return (...given) => {
      const key = given.length === 1 ? keyOf(given[0]) : keyOf(given);
      let found = kept.get(key);
      if (found === undefined) {
        if (kept.size >= most) kept.clear();
        found = f(...given);
        kept.set(key, found);
      }
      return found;
    };
  };
  py.intern = (x) => x;
  py.lru_cache = (most) => (f) => py.cache(f, most);
  py.replace = (x, changes) => new x.constructor(...x.constructor.fields.map((f) => (own.call(changes, f) ? changes[f] : x[f])));

  // Data files, as the bundle holds them.

  let files = {};
  py.paths = (given) => { files = given; };
  class PyPath {
    constructor(path) { this.path = path; }
    get parent() { return new PyPath(this.path.slice(0, this.path.lastIndexOf("/"))); }
    get stem() { return this.path.slice(this.path.lastIndexOf("/") + 1).replace(/\.json$/, ""); }
    join(name) { return new PyPath(`${this.path}/${name}`); }
    joinpath(name) { return this.join(name); }
    with_name(name) { return this.parent.join(name); }
    glob() { return Object.keys(files).filter((each) => each.startsWith(`${this.path}/`)).sort().map((each) => new PyPath(each)); }
    read_text() { return { parsed: py.file(this.path) }; }
  }
  py.file = (path) => {
    if (!own.call(files, path)) throw py.error("OSError", path);
    return files[path];
  };
  py.Path = (path) => new PyPath(path);
  const fromJson = (x) => {
    if (Array.isArray(x)) return x.map(fromJson);
    if (x !== null && typeof x === "object") return new PyDict(Object.entries(x).map(([k, v]) => [k, fromJson(v)]));
    return x;
  };
  py.fromJson = fromJson;
  py.json = {
    loads: (text) => fromJson(typeof text === "string" ? JSON.parse(text) : text.parsed),
    // Tables are made where the bundle is made, never on a phone.
    JSONEncoder: () => ({ encode: () => { throw py.error("OSError", "nothing is encoded here"); } }),
  };

  // Classes.

  py.record = (made, called, fields, alone) => { Object.assign(made, { called, fields, alone }); };
  py.row = (made, called, fields) => {
    Object.assign(made, { called, fields, alone: false });
    made.prototype[Symbol.iterator] = function* () { for (const field of fields) yield this[field]; };
    made.prototype.__getitem__ = function (i) { return this[fields[i]]; };
    made.prototype.__len__ = () => fields.length;
  };
  py.plain = (made, called) => { Object.assign(made, { called }); };
  py.words = (pairs) => {
    const values = pairs.map((pair) => pair[1]);
    const made = (value) => {
      if (!values.includes(value)) throw py.error("ValueError", String(value));
      return value;
    };
    for (const [name, value] of pairs) made[name] = value;
    made[Symbol.iterator] = () => values[Symbol.iterator]();
    return made;
  };
  const ofWords = {};
  py.ofWord = (words, name, get) => { (ofWords[name] ||= []).push({ values: new Set(words), get }); };
  py.word = (x, name) => {
    if (typeof x !== "string") return x[name];
    return ofWords[name].find((entry) => entry.values.has(x)).get(x);
  };
  py.property = (made, name, get, once) => {
    Object.defineProperty(made.prototype, name, {
      configurable: true,
      get: once
        ? function () {
            const value = get.call(this);
            Object.defineProperty(this, name, { value, configurable: true });
            return value;
          }
        : get,
    });
  };
  py.attr = (x, name) =>
    typeof x === "object" && x.constructor.called !== undefined ? py.bound(x, name) : (...given) => py.m[name](x, ...given);
  py.bound = (x, name) => (typeof x[name] === "function" ? x[name].bind(x) : x[name]);

  // Methods of strings, lists, sets and dictionaries, by what the object is; of anything else its own.

  const LETTER = /^\p{L}+$/u;
  const DIGIT = /^[\p{Nd}\u00b2\u00b3\u00b9\u2070\u2074-\u2079\u2080-\u2089]+$/u;
  const space = (c) => /[\s\u001c-\u001f\u0085]/u.test(c) && c !== "\ufeff";
  const isString = (x) => typeof x === "string";
  const trimmed = (x, chars, left, right) => {
    const drop = chars === undefined || chars === null ? space : (c) => chars.includes(c);
    let [from, to] = [0, x.length];
    while (left && from < to && drop(x[from])) from += 1;
    while (right && to > from && drop(x[to - 1])) to -= 1;
    return x.slice(from, to);
  };
  const starts = (x, what, at) => (Array.isArray(what) ? what.some((each) => x.startsWith(each, at)) : x.startsWith(what, at));
  const m = {
    add: (x, v) => x.add(v),
    append: (x, v) => { x.push(v); return null; },
    clear: (x) => { if (Array.isArray(x)) x.length = 0; else x.kept.clear(); return null; },
    copy: (x) => (Array.isArray(x) ? [...x] : x instanceof PyDict ? new PyDict(x.items()) : new PySet(x)),
    count: (x, v) => (isString(x) ? x.split(v).length - 1 : x.filter((each) => py.eq(each, v)).length),
    discard: (x, v) => x.delete(v),
    encode: (x) => Array.from(x, (c) => c.charCodeAt(0)),
    endswith: (x, what) => (Array.isArray(what) ? what.some((each) => x.endsWith(each)) : x.endsWith(what)),
    extend: (x, many) => { for (const each of [...py.each(many)]) x.push(each); return null; },
    find: (x, v, at) => x.indexOf(v, at),
    get: (x, ...given) => x.get(...given),
    index: (x, v, ...given) => {
      const found = isString(x) ? x.indexOf(v, ...given) : x.findIndex((each, i) => i >= (given[0] || 0) && py.eq(each, v));
      if (found < 0) throw py.error("ValueError", py.str(v));
      return found;
    },
    insert: (x, i, v) => { x.splice(i, 0, v); return null; },
    intersection: (x, ...many) => many.reduce((made, other) => py.bitand(made, asSet(other)), asSet(x)),
    isalpha: (x) => LETTER.test(x),
    isascii: (x) => /^[\u0000-\u007f]*$/.test(x),
    isdigit: (x) => DIGIT.test(x),
    isdisjoint: (x, other) => { for (const each of py.each(other)) if (x.has(each)) return false; return true; },
    isspace: (x) => x.length > 0 && [...x].every(space),
    issuperset: (x, other) => [...py.each(other)].every((each) => x.has(each)),
    items: (x) => x.items(),
    join: (x, many) => [...py.each(many)].join(x),
    keys: (x) => x.keys(),
    lower: (x) => x.toLowerCase(),
    partition: (x, by) => { const i = x.indexOf(by); return i < 0 ? [x, "", ""] : [x.slice(0, i), by, x.slice(i + by.length)]; },
    pop: (x, i, other) => {
      if (Array.isArray(x)) return i === undefined ? x.pop() : x.splice(i < 0 ? x.length + i : i, 1)[0];
      if (x instanceof PySet) { const [first] = x; x.delete(first); return first; }
      const found = other === undefined ? x.at(i) : x.get(i, other);
      x.drop(i);
      return found;
    },
    remove: (x, v) => { if (Array.isArray(x)) x.splice(m.index(x, v), 1); else x.delete(v); return null; },
    removeprefix: (x, v) => (x.startsWith(v) ? x.slice(v.length) : x),
    removesuffix: (x, v) => (v && x.endsWith(v) ? x.slice(0, -v.length) : x),
    replace: (x, v, by) => x.replaceAll(v, () => by),
    reverse: (x) => { x.reverse(); return null; },
    rpartition: (x, by) => { const i = x.lastIndexOf(by); return i < 0 ? ["", "", x] : [x.slice(0, i), by, x.slice(i + by.length)]; },
    rstrip: (x, chars) => trimmed(x, chars, false, true),
    setdefault: (x, k, v = null) => { if (!x.has(k)) x.put(k, v); return x.get(k); },
    sort: (x, key = null, reverse = false) => { const made = py.sorted({ key, reverse }, x); x.splice(0, x.length, ...made); return null; },
    split: (x, by, most) => {
      if (by === undefined || by === null) return x.split(/[\s\u001c-\u001f\u0085]+/u).filter((each) => each !== "");
      if (most === undefined) return x.split(by);
      const parts = x.split(by);
      return parts.length <= most + 1 ? parts : [...parts.slice(0, most), parts.slice(most).join(by)];
    },
    startswith: (x, what, at = 0) => starts(x, what, at),
    strip: (x, chars) => trimmed(x, chars, true, true),
    union: (x, ...many) => many.reduce((made, other) => py.bitor(made, asSet(other)), asSet(x)),
    update: (x, ...many) => {
      for (const other of many) {
        if (x instanceof PyDict) for (const [k, v] of other instanceof PyDict ? other.items() : py.each(other)) x.put(k, v);
        else for (const each of py.each(other)) x.add(each);
      }
      return null;
    },
    upper: (x) => x.toUpperCase(),
    values: (x) => x.values(),
  };
  // A class of the engine may have a method of the same name.
  py.m = Object.fromEntries(
    Object.entries(m).map(([name, run]) => [
      name,
      (x, ...given) => (typeof x === "object" && x.constructor.called !== undefined ? x[name](...given) : run(x, ...given)),
    ]),
  );

  py.plainText = (text) => text.replace(/[\u{10000}-\u{10ffff}]/gu, "\ue000");

  return py;
})();
