// What the engine gives as plain values of this language.
export const plainly = (py) => {
  const plain = (x) => {
    if (x === null || x === undefined || typeof x !== "object") return x ?? null;
    if (Array.isArray(x)) return x.map(plain);
    if (x instanceof py.Set) return [...x].map(plain);
    if (x instanceof py.Dict) return Object.fromEntries(x.items().map(([key, value]) => [String(key), plain(value)]));
    if (!x.constructor.fields) return Object.fromEntries(Object.entries(x).map(([key, value]) => [key, plain(value)]));
    return Object.fromEntries(x.constructor.fields.map((key) => [key, plain(x[key])]));
  };
  return plain;
};
