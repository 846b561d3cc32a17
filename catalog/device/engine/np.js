// What the translated engine uses of rows and tables of numbers, and no more: one or two dimensions, 64-bit floats,
// truth values as 1 and 0. Operators of the language come here from py.js where one side is such a row.
const np = (() => {
  const np = {};

  class Rows {
    // data: row after row. shape: [length] or [rows, columns].
    constructor(data, shape, bools = false) {
      this.data = data;
      this.shape = shape;
      this.bools = bools;
    }
    get size() { return this.data.length; }
    get T() {
      const [rows, columns] = this.shape;
      const made = new Float64Array(this.size);
      for (let i = 0; i < rows; i += 1) for (let j = 0; j < columns; j += 1) made[j * rows + i] = this.data[i * columns + j];
      return new Rows(made, [columns, rows], this.bools);
    }
    __len__() { return this.shape[0]; }
    *[Symbol.iterator]() {
      for (let i = 0; i < this.shape[0]; i += 1) yield this.shape.length === 1 ? this.data[i] : row(this, i);
    }
    tolist() {
      if (this.shape.length > 1) return [...this].map((each) => each.tolist());
      return this.bools ? Array.from(this.data, (x) => x !== 0) : Array.from(this.data);
    }
    tobytes() { return this.data.join(","); }
    copy() { return new Rows(this.data.slice(), [...this.shape], this.bools); }
    astype(kind) { return new Rows(this.data.slice(), [...this.shape], kind === "bool_"); }
    reshape(...shape) {
      const sizes = Array.isArray(shape[0]) ? shape[0] : shape;
      const known = sizes.reduce((made, each) => (each < 0 ? made : made * each), 1);
      return new Rows(this.data, sizes.map((each) => (each < 0 ? this.size / known : each)), this.bools);
    }
    sum(axis) { return reduced(this, axis, 0, (a, b) => a + b); }
    max(axis) { return reduced(this, axis, -Infinity, Math.max); }
    min(axis) { return reduced(this, axis, Infinity, Math.min); }
    argmax() { let best = 0; for (let i = 1; i < this.size; i += 1) if (this.data[i] > this.data[best]) best = i; return best; }
    argmin() { let best = 0; for (let i = 1; i < this.size; i += 1) if (this.data[i] < this.data[best]) best = i; return best; }
    any(axis) { const made = reduced(this, axis, 0, (a, b) => (a || b ? 1 : 0)); return truths(made); }
    all(axis) { const made = reduced(this, axis, 1, (a, b) => (a && b ? 1 : 0)); return truths(made); }
    sort() { this.data.sort(); return null; }
  }
  np.Rows = Rows;
  Rows.called = "Rows";

  const truths = (x) => (x instanceof Rows ? new Rows(x.data, x.shape, true) : x !== 0);
  const row = (x, i) => {
    const width = x.shape[1];
    return new Rows(x.data.subarray(i * width, (i + 1) * width), [width], x.bools);
  };
  const reduced = (x, axis, start, join) => {
    if (axis === undefined || axis === null || x.shape.length === 1) {
      let made = start;
      for (let i = 0; i < x.size; i += 1) made = join(made, x.data[i]);
      return made;
    }
    const [rows, columns] = x.shape;
    const along = axis === 0;
    const made = new Float64Array(along ? columns : rows).fill(start);
    for (let i = 0; i < rows; i += 1) {
      for (let j = 0; j < columns; j += 1) {
        const at = along ? j : i;
        made[at] = join(made[at], x.data[i * columns + j]);
      }
    }
    return new Rows(made, [made.length]);
  };

  const rowsOf = (x) => {
    if (x instanceof Rows) return x;
    const all = Array.isArray(x) ? x : x instanceof py.Set || typeof x[Symbol.iterator] === "function" ? [...x] : [x];
    if (all.length && (Array.isArray(all[0]) || all[0] instanceof Rows)) {
      const inner = all.map((each) => (each instanceof Rows ? Array.from(each.data) : each.map(Number)));
      return new Rows(Float64Array.from(inner.flat()), [all.length, inner[0].length]);
    }
    if (all.length && typeof all[0] === "string") return all;
    return new Rows(Float64Array.from(all, Number), [all.length], all.length > 0 && typeof all[0] === "boolean");
  };
  np.array = (x, kind) => (x instanceof Rows ? x.copy() : kind === "bool_" ? truths(rowsOf(x)) : rowsOf(x));
  np.asarray = (x, kind) => (x instanceof Rows ? x : np.array(x, kind));
  np.ascontiguousarray = (x) => x;
  const shapeOf = (x) => (typeof x === "number" ? [x] : [...x]);
  np.full = (size, value, kind) => {
    const shape = shapeOf(size);
    return new Rows(new Float64Array(shape.reduce((a, b) => a * b, 1)).fill(Number(value)), shape, kind === "bool_");
  };
  np.zeros = (size, kind) => np.full(size, 0, kind);
  np.ones = (size, kind) => np.full(size, 1, kind);
  np.empty = np.zeros;
  np.ones_like = (x) => np.full(x.shape, 1);
  // The kind of number comes last everywhere, and all numbers are of one kind here.
  np.arange = (a, b) => rowsOf(typeof b === "number" ? py.range(a, b) : py.range(a));
  np.nan = NaN;

  // Elementwise, one side spread over the other where it is smaller.

  const wide = (a, b) => {
    if (!(a instanceof Rows)) return b.shape;
    if (!(b instanceof Rows)) return a.shape;
    const [long, short] = a.shape.length >= b.shape.length ? [a.shape, b.shape] : [b.shape, a.shape];
    const lead = long.length - short.length;
    return long.map((each_, i) => (i < lead ? each_ : Math.max(each_, short[i - lead])));
  };
  const reader = (x, shape) => {
    if (!(x instanceof Rows)) { const value = Number(x); return () => value; }
    const data = x.data;
    if (x.size === shape.reduce((a, b) => a * b, 1)) return (i) => data[i];
    if (x.size === 1) return () => data[0];
    // What each step of a place in the whole is in the smaller one; none where it has but one.
    const lead = shape.length - x.shape.length;
    const steps = [];
    let [whole, own] = [1, 1];
    for (let axis = shape.length - 1; axis >= 0; axis -= 1) {
      const here = axis < lead ? 1 : x.shape[axis - lead];
      steps.push([whole, shape[axis], here === 1 ? 0 : own]);
      whole *= shape[axis];
      own *= here;
    }
    return (i) => {
      let at = 0;
      for (const [by, size, step] of steps) if (step) at += (Math.floor(i / by) % size) * step;
      return data[at];
    };
  };
  const each = (a, b, join, bools = false) => {
    const shape = wide(a, b);
    const [left, right] = [reader(a, shape), reader(b, shape)];
    const made = new Float64Array(shape.reduce((x, y) => x * y, 1));
    for (let i = 0; i < made.length; i += 1) made[i] = join(left(i), right(i));
    return new Rows(made, [...shape], bools);
  };
  const mapped = (x, join, bools = false) => new Rows(Float64Array.from(x.data, (v) => join(v)), [...x.shape], bools);
  const asked = (test) => (a, b) => each(a, b, (x, y) => (test(x, y) ? 1 : 0), true);
  np.ops = {
    add: (a, b) => each(a, b, (x, y) => x + y), sub: (a, b) => each(a, b, (x, y) => x - y),
    mul: (a, b) => each(a, b, (x, y) => x * y), div: (a, b) => each(a, b, (x, y) => x / y),
    mod: (a, b) => each(a, b, (x, y) => ((x % y) + y) % y), floordiv: (a, b) => each(a, b, (x, y) => Math.floor(x / y)),
    pow: (a, b) => each(a, b, (x, y) => x ** y),
    bitand: asked((x, y) => x !== 0 && y !== 0), bitor: asked((x, y) => x !== 0 || y !== 0),
    bitxor: asked((x, y) => (x !== 0) !== (y !== 0)),
    same: asked((x, y) => x === y), other: asked((x, y) => x !== y),
    lt: asked((x, y) => x < y), le: asked((x, y) => x <= y), gt: asked((x, y) => x > y), ge: asked((x, y) => x >= y),
    neg: (a) => mapped(a, (x) => -x), invert: (a) => mapped(a, (x) => (x ? 0 : 1), true),
  };
  np.abs = (x) => mapped(x, Math.abs);
  np.isnan = (x) => (x instanceof Rows ? mapped(x, (v) => (Number.isNaN(v) ? 1 : 0), true) : Number.isNaN(x));
  np.minimum = (a, b) => (a instanceof Rows || b instanceof Rows ? each(a, b, Math.min) : Math.min(a, b));
  np.maximum = (a, b) => (a instanceof Rows || b instanceof Rows ? each(a, b, Math.max) : Math.max(a, b));
  np.maximum.reduceat = (x, starts) => pieces(x, starts, -Infinity, Math.max);
  np.add = { reduceat: (x, starts) => pieces(x, starts, 0, (a, b) => a + b) };
  const pieces = (x, starts, start, join) => {
    const made = Float64Array.from(starts.data, (from, i) => {
      const end = i + 1 < starts.size ? starts.data[i + 1] : x.size;
      if (end <= from) return x.data[from];
      let sum = start;
      for (let j = from; j < end; j += 1) sum = join(sum, x.data[j]);
      return sum;
    });
    return new Rows(made, [made.length]);
  };
  np.clip = (x, least, most) => mapped(x, (v) => Math.min(most, Math.max(least, v)));
  np.round = (x, places) => { const by = 10 ** places; return mapped(x, (v) => py.round(v * by) / by); };
  np.where = (test, a, b) => {
    const [yes, no] = [reader(a, test.shape), reader(b, test.shape)];
    return new Rows(test.data.map((v, i) => (v ? yes(i) : no(i))), [...test.shape]);
  };
  np.divide = (a, b, { out, where }) => {
    const [left, right] = [reader(a, where.shape), reader(b, where.shape)];
    for (let i = 0; i < where.size; i += 1) if (where.data[i]) out.data[i] = left(i) / right(i);
    return out;
  };
  np.dot = (a, b) => { let made = 0; for (let i = 0; i < a.size; i += 1) made += a.data[i] * b.data[i]; return made; };
  np.cumsum = (x) => { let made = 0; return mapped(rowsOf(x), (v) => (made += v)); };
  np.diff = (x, { append } = {}) => {
    const all = append === undefined ? x.data : Float64Array.from([...x.data, append]);
    return new Rows(all.slice(1).map((v, i) => v - all[i]), [all.length - 1]);
  };
  np.prod = (many, { axis } = {}) => {
    if (axis === 0) return [...many].map(rowsOf).reduce((a, b) => np.ops.mul(a, b));
    return reduced(rowsOf(many), null, 1, (a, b) => a * b);
  };

  // Finding, counting, ordering, joining.

  np.flatnonzero = (x) => { const made = []; x.data.forEach((v, i) => { if (v) made.push(i); }); return rowsOf(made); };
  np.bincount = (x, { weights, minlength = 0 } = {}) => {
    let size = minlength;
    for (const v of x.data) if (v >= size) size = v + 1;
    const made = new Float64Array(size);
    for (let i = 0; i < x.size; i += 1) made[x.data[i]] += weights === undefined ? 1 : weights.data[i];
    return new Rows(made, [size]);
  };
  np.concatenate = (many) => {
    const all = [...many].map(rowsOf);
    return new Rows(Float64Array.from(all.flatMap((each_) => Array.from(each_.data))), [all.reduce((n, x) => n + x.size, 0)], all.length > 0 && all.every((x) => x.bools));
  };
  np.append = (x, value) => np.concatenate([x, value].map((one) => (one instanceof Rows ? one : [one])));
  np.column_stack = (many) => {
    const all = [...many].map(rowsOf);
    const made = new Float64Array(all[0].size * all.length);
    all.forEach((column, j) => column.data.forEach((v, i) => { made[i * all.length + j] = v; }));
    return new Rows(made, [all[0].size, all.length]);
  };
  np.repeat = (x, counts) => {
    const times = typeof counts === "number" ? () => counts : (i) => (counts.data ?? counts)[i];
    return rowsOf(Array.from(rowsOf(x).data).flatMap((v, i) => Array(times(i)).fill(v)));
  };
  np.searchsorted = (x, values) => {
    const one = (v) => py.bisect_left(x.data ?? x, v);
    return values instanceof Rows ? mapped(values, one) : one(values);
  };
  np.sort = (x) => new Rows(x.data.slice().sort(), [...x.shape]);
  np.partition = np.sort;
  np.lexsort = (keys) => {
    const all = [...keys].map(rowsOf).reverse();
    const order = py.range(all[0].size);
    order.sort((a, b) => {
      for (const key of all) if (key.data[a] !== key.data[b]) return key.data[a] - key.data[b];
      return 0;
    });
    return rowsOf(order);
  };
  np.unique = (x, { return_index, return_inverse } = {}) => {
    const values = [...new Set(x.data)].sort((a, b) => a - b);
    const place = new Map(values.map((v, i) => [v, i]));
    if (return_index) return [rowsOf(values), rowsOf(values.map((v) => x.data.indexOf(v)))];
    if (return_inverse) return [rowsOf(values), mapped(x, (v) => place.get(v))];
    return rowsOf(values);
  };
  np.union1d = (a, b) => np.unique(np.concatenate([a, b]));
  np.isin = (x, values) => {
    const all = new Set(values instanceof Rows ? values.data : values);
    const told = x instanceof Rows ? Array.from(x.data) : [...x];
    return new Rows(Float64Array.from(told, (v) => (all.has(v) ? 1 : 0)), [told.length], true);
  };
  np.take = (x, places, { out } = {}) => {
    const made = np.at(x, places);
    if (out === undefined) return made;
    out.data.set(made.data);
    return out;
  };
  np.frombuffer = (codes) => rowsOf(codes);

  // Places: a number, a row of numbers or truths, a slice, or two of these.

  const spread = (index, length) => {
    if (index === null) return null;
    if (typeof index === "number") return [index < 0 ? length + index : index];
    if (index.cut) {
      const [from, to] = index.cut;
      const start = from === null ? 0 : from < 0 ? length + from : Math.min(from, length);
      const end = to === null ? length : to < 0 ? length + to : Math.min(to, length);
      return py.range(start, end);
    }
    if (index instanceof Rows && index.bools) return np.flatnonzero(index).data;
    return index instanceof Rows ? index.data : index;
  };
  np.at = (x, index) => {
    if (Array.isArray(index) && index.includes(null)) {
      const sizes = [...x.shape];
      const shape = index.map((each_) => (each_ === null ? 1 : sizes.shift()));
      return new Rows(x.data, [...shape, ...sizes], x.bools);
    }
    if (x.shape.length === 1) {
      if (typeof index === "number") return x.bools ? x.data[spread(index, x.size)[0]] !== 0 : x.data[spread(index, x.size)[0]];
      const places = spread(index, x.size);
      const shape = index instanceof Rows && !index.bools ? [...index.shape] : [places.length];
      return new Rows(Float64Array.from(places, (i) => x.data[i]), shape, x.bools);
    }
    const [first, second] = Array.isArray(index) && index.pair ? index : [index, { cut: [null, null] }];
    if (typeof first === "number" && second.cut && second.cut[0] === null && second.cut[1] === null) {
      return row(x, spread(first, x.shape[0])[0]);
    }
    const [rows, columns] = [spread(first, x.shape[0]), spread(second, x.shape[1])];
    const made = new Float64Array(rows.length * columns.length);
    let at = 0;
    for (const i of rows) for (const j of columns) { made[at] = x.data[i * x.shape[1] + j]; at += 1; }
    if (typeof first === "number" && typeof second === "number") return made[0];
    if (typeof first === "number") return new Rows(made, [columns.length], x.bools);
    if (typeof second === "number") return new Rows(made, [rows.length], x.bools);
    return new Rows(made, [rows.length, columns.length], x.bools);
  };
  np.put = (x, index, value) => {
    const width = x.shape.length === 1 ? 1 : x.shape[1];
    const places = spread(index, x.shape[0]);
    const from = reader(value, [places.length * width]);
    let at = 0;
    for (const i of places) for (let j = 0; j < width; j += 1) { x.data[i * width + j] = from(at); at += 1; }
  };
  for (const kind of ["float64", "intp", "int32", "int64", "int16", "uint8", "uint16", "uint32", "bool_"]) np[kind] = kind;
  return np;
})();
py.rows(np);
return np;
