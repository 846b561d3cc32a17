// catalog/resolve/tables: what the compiled edition holds, as it is. Nothing is built from records on a phone.
function Tables(arrays, meta) {
  if (!new.target) return new Tables(arrays, meta);
  Object.assign(this, { arrays, meta });
}
py.record(Tables, "Tables", ["arrays", "meta"], true);
Object.defineProperty(Tables.prototype, "size", { get() { return this.meta.at("codes").length; } });
return { Tables };
