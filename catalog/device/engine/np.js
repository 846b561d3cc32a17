// What the translated engine uses of rows and tables of numbers, and no more: one or two dimensions (three while two
// are spread over one another), 64-bit floats, truth values as 1 and 0. Operators of the language come here from py.js
// where one side is such a row. Every loop runs over the numbers themselves: a search asks for some hundred thousand.
const np = (() => {
  const np = {};

  class Rows {
    // data: row after row, of any kind of number where it is only read. shape: [length] or [rows, columns].
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
      if (this.shape.length > 1) return Array.from({ length: this.shape[0] }, (_, i) => row(this, i).tolist());
      return this.bools ? Array.from(this.data, (x) => x !== 0) : Array.from(this.data);
    }
    tobytes() { return this.data.join(","); }
    copy() { return new Rows(Float64Array.from(this.data), [...this.shape], this.bools); }
    astype(kind) { return new Rows(Float64Array.from(this.data), [...this.shape], kind === "bool_"); }
    ravel() { return new Rows(this.data, [this.size], this.bools); }
    reshape(...shape) {
      const sizes = Array.isArray(shape[0]) ? shape[0] : shape;
      const known = sizes.reduce((made, each) => (each < 0 ? made : made * each), 1);
      return new Rows(this.data, sizes.map((each) => (each < 0 ? this.size / known : each)), this.bools);
    }
    sum(axis, keepdims) { return reduced(this, axis, 0, (a, b) => a + b, keepdims); }
    max(axis, keepdims, initial = -Infinity) { return reduced(this, axis, initial, (a, b) => (b > a ? b : a), keepdims); }
    min(axis, keepdims, initial = Infinity) { return reduced(this, axis, initial, (a, b) => (b < a ? b : a), keepdims); }
    argmax(axis) {
      if (axis === 0 && this.shape.length === 2) return rowsOf(Array.from({ length: this.shape[1] }, (_, j) => best(this, j)));
      return best(new Rows(this.data, [this.size, 1]), 0);
    }
    argmin() { return np.ops.neg(this).argmax(); }
    any(axis) { return truths(reduced(this, axis, 0, (a, b) => (a || b ? 1 : 0))); }
    all(axis) { return truths(reduced(this, axis, 1, (a, b) => (a && b ? 1 : 0))); }
    sort() { this.data.sort(); return null; }
  }
  np.Rows = Rows;
  Rows.called = "Rows";

  const best = (x, column) => {
    const [rows, columns] = x.shape;
    let at = 0;
    for (let i = 1; i < rows; i += 1) if (x.data[i * columns + column] > x.data[at * columns + column]) at = i;
    return at;
  };
  const truths = (x) => (x instanceof Rows ? new Rows(x.data, x.shape, true) : x !== 0);
  const row = (x, i) => {
    const width = x.shape[1];
    return new Rows(x.data.subarray(i * width, (i + 1) * width), [width], x.bools);
  };
  const reduced = (x, axis, start, join, keepdims = false) => {
    const { data } = x;
    if (axis === undefined || axis === null || x.shape.length === 1) {
      let made = start;
      for (let i = 0; i < data.length; i += 1) made = join(made, data[i]);
      return keepdims ? new Rows(Float64Array.of(made), [1]) : made;
    }
    const [rows, columns] = x.shape;
    const along = axis === 0;
    const made = new Float64Array(along ? columns : rows).fill(start);
    for (let i = 0, at = 0; i < rows; i += 1) {
      for (let j = 0; j < columns; j += 1, at += 1) {
        const to = along ? j : i;
        made[to] = join(made[to], data[at]);
      }
    }
    return new Rows(made, keepdims ? (along ? [1, columns] : [rows, 1]) : [made.length]);
  };

  const rowsOf = (x) => {
    if (x instanceof Rows) return x;
    const all = Array.isArray(x) ? x : x instanceof py.Set || typeof x[Symbol.iterator] === "function" ? [...x] : [x];
    if (all.length && (Array.isArray(all[0]) || all[0] instanceof Rows)) {
      const width = all[0] instanceof Rows ? all[0].size : all[0].length;
      const made = new Float64Array(all.length * width);
      let at = 0;
      for (const each_ of all) for (const v of each_ instanceof Rows ? each_.data : each_) made[at++] = Number(v);
      return new Rows(made, [all.length, width]);
    }
    if (all.length && typeof all[0] === "string") return all;
    const made = new Float64Array(all.length);
    for (let i = 0; i < made.length; i += 1) made[i] = Number(all[i]);
    return new Rows(made, [made.length], made.length > 0 && typeof all[0] === "boolean");
  };
  np.array = (x, kind) => (x instanceof Rows ? x.copy() : kind === "bool_" ? truths(rowsOf(x)) : rowsOf(x));
  np.asarray = (x, kind) => (x instanceof Rows ? x : np.array(x, kind));
  np.ascontiguousarray = (x) => x;
  const shapeOf = (x) => (typeof x === "number" ? [x] : [...x]);
  const sizeOf = (shape) => shape.reduce((a, b) => a * b, 1);
  np.full = (size, value, kind) => {
    const shape = shapeOf(size);
    return new Rows(new Float64Array(sizeOf(shape)).fill(Number(value)), shape, kind === "bool_");
  };
  np.zeros = (size, kind) => np.full(size, 0, kind);
  np.ones = (size, kind) => np.full(size, 1, kind);
  np.empty = np.zeros;
  np.ones_like = (x) => np.full(x.shape, 1);
  np.zeros_like = (x) => np.full(x.shape, 0);
  // The kind of number comes last everywhere, and all numbers are of one kind here.
  np.arange = (a, b) => {
    const [from, to] = typeof b === "number" ? [a, b] : [0, a];
    const made = new Float64Array(Math.max(0, to - from));
    for (let i = 0; i < made.length; i += 1) made[i] = from + i;
    return new Rows(made, [made.length]);
  };
  np.nan = NaN;
  np.inf = Infinity;

  // Elementwise, one side spread over the other where it is smaller.

  const same = (a, b) => a.length === b.length && a.every((n, i) => n === b[i]);
  const wide = (a, b) => {
    if (!(a instanceof Rows)) return b.shape;
    if (!(b instanceof Rows) || same(a.shape, b.shape)) return a.shape;
    const [long, short] = a.shape.length >= b.shape.length ? [a.shape, b.shape] : [b.shape, a.shape];
    const lead = long.length - short.length;
    return long.map((each_, i) => (i < lead ? each_ : Math.max(each_, short[i - lead])));
  };
  // The numbers of one side, laid out as the whole: the side itself where it is as large.
  const laid = (x, shape) => {
    const size = sizeOf(shape);
    if (!(x instanceof Rows)) return new Float64Array(size).fill(Number(x));
    const { data } = x;
    if (data.length === size) return data;
    if (data.length === 1) return new Float64Array(size).fill(data[0]);
    const made = new Float64Array(size);
    const lead = shape.length - x.shape.length;
    const steps = shape.map((_, axis) => (axis < lead || x.shape[axis - lead] === 1 ? 0 : sizeOf(x.shape.slice(axis - lead + 1))));
    const [planes, rows, columns] = [1, 1, ...shape].slice(-3);
    const [byPlane, byRow, byColumn] = [0, 0, ...steps].slice(-3);
    let at = 0;
    for (let p = 0; p < planes; p += 1) {
      for (let i = 0; i < rows; i += 1) {
        for (let j = 0, from = p * byPlane + i * byRow; j < columns; j += 1, from += byColumn) made[at++] = data[from];
      }
    }
    return made;
  };
  const each = (a, b, join, bools = false) => {
    const shape = wide(a, b);
    const made = new Float64Array(sizeOf(shape));
    if (!(b instanceof Rows)) {
      const [left, right] = [a.data, Number(b)];
      for (let i = 0; i < made.length; i += 1) made[i] = join(left[i], right);
    } else if (!(a instanceof Rows)) {
      const [left, right] = [Number(a), b.data];
      for (let i = 0; i < made.length; i += 1) made[i] = join(left, right[i]);
    } else {
      const [left, right] = [laid(a, shape), laid(b, shape)];
      for (let i = 0; i < made.length; i += 1) made[i] = join(left[i], right[i]);
    }
    return new Rows(made, [...shape], bools);
  };
  const mapped = (x, join, bools = false) => {
    const { data } = x;
    const made = new Float64Array(data.length);
    for (let i = 0; i < made.length; i += 1) made[i] = join(data[i]);
    return new Rows(made, [...x.shape], bools);
  };
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
  np.maximum.reduceat = (x, starts, { axis = 0 } = {}) => pieces(x, starts, axis, -Infinity, (a, b) => (b > a ? b : a));
  np.maximum.at = (x, places, values) => {
    places.data.forEach((at, i) => { if (values.data[i] > x.data[at]) x.data[at] = values.data[i]; });
  };
  np.add = { reduceat: (x, starts, { axis = 0 } = {}) => pieces(x, starts, axis, 0, (a, b) => a + b) };
  // From each start up to the next one; where there is nothing between, what stands at the start.
  const pieces = (x, starts, axis, start, join) => {
    const flat = x.shape.length === 1;
    const [rows, columns] = flat ? [1, x.size] : x.shape;
    const down = !flat && axis === 0;
    const [lines, length, step, by] = down ? [columns, rows, 1, columns] : [rows, columns, columns, 1];
    const count = starts.size;
    const made = new Float64Array(lines * count);
    for (let line = 0; line < lines; line += 1) {
      for (let i = 0; i < count; i += 1) {
        const from = starts.data[i];
        const end = Math.max(i + 1 < count ? starts.data[i + 1] : length, from + 1);
        let sum = start;
        for (let j = from; j < end; j += 1) sum = join(sum, x.data[line * step + j * by]);
        made[down ? i * columns + line : line * count + i] = sum;
      }
    }
    return new Rows(made, flat ? [count] : down ? [count, columns] : [rows, count]);
  };
  np.clip = (x, least, most) => mapped(x, (v) => Math.min(most, Math.max(least, v)));
  np.round = (x, places) => {
    const by = 10 ** places;
    return mapped(x, (v) => {
      const to = Math.round(v * by);
      return (to & 1 && Math.abs((v * by) % 1) === 0.5 ? to - 1 : to) / by;
    });
  };
  np.where = (test, a, b) => {
    const shape = [test, a, b].map((x) => (x instanceof Rows ? x.shape : [])).reduce((m, s) => (sizeOf(s) > sizeOf(m) ? s : m), test.shape);
    const [asks, yes, no] = [laid(test, shape), laid(a, shape), laid(b, shape)];
    const made = new Float64Array(asks.length);
    for (let i = 0; i < made.length; i += 1) made[i] = asks[i] ? yes[i] : no[i];
    return new Rows(made, [...shape]);
  };
  np.divide = (a, b, { out, where }) => {
    const [left, right, asks] = [laid(a, out.shape), laid(b, out.shape), laid(where, out.shape)];
    for (let i = 0; i < asks.length; i += 1) if (asks[i]) out.data[i] = left[i] / right[i];
    return out;
  };
  np.log2 = (x, { out, where }) => {
    for (let i = 0; i < x.size; i += 1) if (where.data[i]) out.data[i] = Math.log2(x.data[i]);
    return out;
  };
  // Of rows with rows a number, of a row with a table, a table with a row or two tables the product.
  np.dot = (a, b) => {
    const [n, inner] = a.shape.length === 1 ? [1, a.size] : a.shape;
    const columns = b.shape.length === 1 ? 1 : b.shape[1];
    const made = new Float64Array(n * columns);
    for (let i = 0; i < n; i += 1) {
      for (let k = 0; k < inner; k += 1) {
        const by = a.data[i * inner + k];
        if (by === 0) continue;
        for (let j = 0; j < columns; j += 1) made[i * columns + j] += by * b.data[k * columns + j];
      }
    }
    if (a.shape.length === 1 && b.shape.length === 1) return made[0];
    return new Rows(made, a.shape.length === 1 ? [columns] : b.shape.length === 1 ? [n] : [n, columns]);
  };
  np.cumsum = (x) => { let made = 0; return mapped(rowsOf(x), (v) => (made += v)); };
  np.diff = (x, { append } = {}) => {
    const all = append === undefined ? x.data : Float64Array.from([...x.data, append]);
    return new Rows(Float64Array.from(all.slice(1), (v, i) => v - all[i]), [all.length - 1]);
  };
  np.prod = (many, { axis } = {}) => {
    if (axis === 0) return [...many].map(rowsOf).reduce((a, b) => np.ops.mul(a, b));
    return reduced(rowsOf(many), null, 1, (a, b) => a * b);
  };

  // Finding, counting, ordering, joining.

  np.flatnonzero = (x) => {
    const { data } = x;
    let count = 0;
    for (let i = 0; i < data.length; i += 1) if (data[i]) count += 1;
    const made = new Float64Array(count);
    for (let i = 0, at = 0; at < count; i += 1) if (data[i]) made[at++] = i;
    return new Rows(made, [count]);
  };
  np.count_nonzero = (x) => np.flatnonzero(x).size;
  np.bincount = (x, { weights, minlength = 0 } = {}) => {
    let size = minlength;
    for (const v of x.data) if (v >= size) size = v + 1;
    const made = new Float64Array(size);
    for (let i = 0; i < x.size; i += 1) made[x.data[i]] += weights === undefined ? 1 : weights.data[i];
    return new Rows(made, [size]);
  };
  np.concatenate = (many) => {
    const all = [...many].map(rowsOf);
    const made = new Float64Array(all.reduce((n, x) => n + x.size, 0));
    let at = 0;
    for (const x of all) { made.set(x.data, at); at += x.size; }
    const [first] = all;
    const shape = first && first.shape.length === 2 ? [made.length / first.shape[1], first.shape[1]] : [made.length];
    return new Rows(made, shape, all.length > 0 && all.every((x) => x.bools));
  };
  np.append = (x, value) => np.concatenate([x, value].map((one) => (one instanceof Rows ? one : [one])));
  np.vstack = (many) => np.concatenate([...many].map((x) => (x.shape.length === 1 ? x.reshape(1, x.size) : x)));
  np.column_stack = (many) => {
    const all = [...many].map(rowsOf).map((x) => (x.shape.length === 1 ? x.reshape(x.size, 1) : x));
    const [rows, width] = [all[0].shape[0], all.reduce((n, x) => n + x.shape[1], 0)];
    const made = new Float64Array(rows * width);
    let at = 0;
    for (const x of all) {
      const columns = x.shape[1];
      for (let i = 0; i < rows; i += 1) for (let j = 0; j < columns; j += 1) made[i * width + at + j] = x.data[i * columns + j];
      at += columns;
    }
    return new Rows(made, [rows, width]);
  };
  np.repeat = (x, counts) => {
    const times = typeof counts === "number" ? () => counts : (i) => (counts.data ?? counts)[i];
    return rowsOf(Array.from(rowsOf(x).data).flatMap((v, i) => Array(times(i)).fill(v)));
  };
  np.broadcast_to = (x, shape) => new Rows(laid(x, shape), [...shape]);
  np.searchsorted = (x, values) => {
    const all = x.data ?? x;
    const one = (v) => {
      let [low, high] = [0, all.length];
      while (low < high) {
        const middle = (low + high) >> 1;
        if (all[middle] < v) low = middle + 1;
        else high = middle;
      }
      return low;
    };
    return values instanceof Rows ? mapped(values, one) : one(values);
  };
  np.sort = (x) => new Rows(Float64Array.from(x.data).sort(), [...x.shape]);
  np.partition = np.sort;
  np.argsort = (x) => np.lexsort([x]);
  np.lexsort = (keys) => {
    const all = [...keys].map((key) => rowsOf(key).data).reverse();
    const order = py.range(all[0].length);
    order.sort((a, b) => {
      for (const key of all) if (key[a] !== key[b]) return key[a] - key[b];
      return 0;
    });
    return rowsOf(order);
  };
  np.unique = (x, { return_index, return_inverse } = {}) => {
    const first = new Map();
    for (let i = 0; i < x.size; i += 1) if (!first.has(x.data[i])) first.set(x.data[i], i);
    const values = [...first.keys()].sort((a, b) => a - b);
    const made = [rowsOf(values)];
    if (return_index) made.push(rowsOf(values.map((v) => first.get(v))));
    if (return_inverse) {
      const place = new Map(values.map((v, i) => [v, i]));
      made.push(mapped(x, (v) => place.get(v)));
    }
    return made.length === 1 ? made[0] : made;
  };
  np.union1d = (a, b) => np.unique(np.concatenate([a, b]));
  np.isin = (x, values) => {
    const all = new Set(values instanceof Rows ? values.data : values);
    const told = x instanceof Rows ? Array.from(x.data) : [...x];
    return new Rows(Float64Array.from(told, (v) => (all.has(v) ? 1 : 0)), [told.length], true);
  };
  np.take = (x, places, { out } = {}) => {
    if (out === undefined) return np.at(x, places);
    const [from, to, width] = [x.data, out.data, x.shape.length === 1 ? 1 : x.shape[1]];
    const at = places.data;
    for (let i = 0; i < at.length; i += 1) for (let j = 0; j < width; j += 1) to[i * width + j] = from[at[i] * width + j];
    return out;
  };
  np.frombuffer = (codes) => rowsOf(codes);

  // Places: a number, a row of numbers or truths, a slice, or two of these.

  const spread = (index, length) => {
    if (typeof index === "number") return [index < 0 ? length + index : index];
    if (index.cut) {
      const [from, to] = index.cut;
      const start = from === null ? 0 : from < 0 ? length + from : Math.min(from, length);
      const end = to === null ? length : to < 0 ? length + to : Math.min(to, length);
      return py.range(start, end);
    }
    if (index instanceof Rows) return index.bools ? np.flatnonzero(index).data : index.data;
    return index;
  };
  const isAll = (index) => Boolean(index.cut) && index.cut[0] === null && index.cut[1] === null;
  np.at = (x, index) => {
    if (Array.isArray(index) && index.includes(null)) {
      const sizes = [...x.shape];
      const shape = index.map((each_) => (each_ === null ? 1 : sizes.shift()));
      return new Rows(x.data, [...shape, ...sizes], x.bools);
    }
    const { data } = x;
    if (x.shape.length === 1) {
      if (typeof index === "number") {
        const found = data[index < 0 ? data.length + index : index];
        if (found === undefined) throw py.error("IndexError", String(index));
        return x.bools ? found !== 0 : found;
      }
      const places = spread(index, x.size);
      const made = new Float64Array(places.length);
      for (let i = 0; i < made.length; i += 1) made[i] = data[places[i] < 0 ? data.length + places[i] : places[i]];
      return new Rows(made, index instanceof Rows && !index.bools ? [...index.shape] : [made.length], x.bools);
    }
    const [first, second] = Array.isArray(index) && index.pair ? index : [index, { cut: [null, null] }];
    if (typeof first === "number" && isAll(second)) return row(x, first < 0 ? x.shape[0] + first : first);
    const width = x.shape[1];
    if (first instanceof Rows && second instanceof Rows && !first.bools && !second.bools) {
      const shape = wide(first, second);
      const [rows, columns] = [laid(first, shape), laid(second, shape)];
      const made = new Float64Array(rows.length);
      for (let i = 0; i < made.length; i += 1) made[i] = data[rows[i] * width + columns[i]];
      return new Rows(made, [...shape], x.bools);
    }
    const [rows, columns] = [spread(first, x.shape[0]), spread(second, width)];
    const made = new Float64Array(rows.length * columns.length);
    let at = 0;
    for (let i = 0; i < rows.length; i += 1) {
      for (let j = 0; j < columns.length; j += 1) made[at++] = data[rows[i] * width + columns[j]];
    }
    if (typeof first === "number" && typeof second === "number") return made[0];
    if (typeof first === "number" || typeof second === "number") return new Rows(made, [made.length], x.bools);
    return new Rows(made, [rows.length, columns.length], x.bools);
  };
  np.put = (x, index, value) => {
    const [first, second] = Array.isArray(index) && index.pair ? index : [index, { cut: [null, null] }];
    const width = x.shape.length === 1 ? 1 : x.shape[1];
    const [rows, columns] = [spread(first, x.shape[0]), spread(second, width)];
    const from = laid(value, columns.length === 1 ? [rows.length] : [rows.length, columns.length]);
    let at = 0;
    for (let i = 0; i < rows.length; i += 1) {
      for (let j = 0; j < columns.length; j += 1) x.data[rows[i] * width + columns[j]] = from[at++];
    }
  };
  for (const kind of ["float64", "intp", "int32", "int64", "int16", "uint8", "uint16", "uint32", "bool_"]) np[kind] = kind;
  return np;
})();
py.rows(np);
return np;
