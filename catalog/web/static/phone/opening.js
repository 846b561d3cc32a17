// From the parts of an edition to what answers: the translated engine over the edition's tables.
import { ask, parsed, read, readAll } from "./parts.js";

export const FORMAT = 1;

const KINDS = { "<u2": Uint16Array, "<u4": Uint32Array, "<i4": Int32Array, "<i8": BigInt64Array, "<f8": Float64Array };

// The listing of an edition: {edition, hash, records, parts: {use: [[key, name, bytes], ...]}}.
export const listed = async (name, fetching) => {
  const told = parsed(await read(name, fetching));
  const parts = {};
  for (const [use, key, part, bytes] of told.parts) (parts[use] ??= []).push([key, part, bytes]);
  return { ...told, parts };
};

// {engine, field, lexicon, site, meta, tables}: engine is {modules, py, np} with the edition's field in it.
export const opened = async (listing, engineHash, fetching) => {
  const names = (use) => listing.parts[use].map(([, name]) => name);
  const [engine, tables, [site], [parameters], [doubts]] = await Promise.all([
    engineOf(engineHash),
    readAll(names("tables"), fetching).then(joined),
    readAll(names("site"), fetching),
    readAll(names("parameters"), fetching),
    readAll(names("doubts"), fetching),
  ]);
  const { modules: m, py, np } = engine;
  const told = parsed(parameters);
  const here = parsed(site);
  const rows = Object.entries(tables.arrays).map(([name, { values, shape }]) => [name, new np.Rows(doubles(values), shape)]);
  const made = new m["catalog.resolve.tables"].Tables(py.dict(rows), py.fromJson(tables.meta));
  const weights = m["catalog.resolve.parameters"].parameters_from(py.fromJson(told.set), told.hash, told.basis);
  return {
    engine,
    field: new m["catalog.resolve.field"].Field(made, weights, here.unlisted_rate),
    lexicon: m["catalog.resolve.names"].lexicon_of(made),
    site: here,
    doubts: parsed(doubts),
    tables,
  };
};

// {arrays: {name: {values, shape}}, meta} from the parts of the tables, every array in the kind of number it is kept in.
export const joined = (contents) => {
  const arrays = {};
  const meta = {};
  for (const content of contents) {
    const end = new Uint8Array(content).indexOf(10);
    const head = parsed(content.slice(0, end));
    for (const { name, type, shape, at, row, rows } of head.arrays) {
      const length = shape.reduce((made, each) => made * each, 1);
      const Kind = KINDS[type];
      const start = end + 1 + at;
      const values = new Kind(content.slice(start, start + length * Kind.BYTES_PER_ELEMENT));
      if (!rows) arrays[name] = { values, shape };
      else {
        arrays[name] ??= { values: new Kind(rows * length), shape: [rows, length] };
        arrays[name].values.set(values, row * length);
      }
    }
    for (const [path, value] of head.meta) {
      const [last] = path.slice(-1);
      const inner = path.slice(0, -1).reduce((made, each) => (made[each] ??= {}), meta);
      inner[last] = value;
    }
  }
  return { arrays, meta };
};

// The engine has one kind of number.
const doubles = (values) => (values instanceof Float64Array ? values : Float64Array.from(values, Number));

const engines = new Map();
const engineOf = (hash) => {
  if (!engines.has(hash)) {
    const made = Promise.all([import(`/phone/engine/${hash}.js`), ask(`/phone/engine/${hash}.json`)]).then(
      async ([module, files]) => module.engine(await files.json()),
    );
    engines.set(hash, made);
    made.catch(() => engines.delete(hash));
  }
  return engines.get(hash);
};
