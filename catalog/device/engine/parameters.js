// catalog/resolve/parameters: a set comes with its hash, made where the bundle was.
function Parameters(version, origin, temperature, unlisted_bias, cap, floor, kappa, no_port, tables, hash, basis = "") {
  if (!new.target) return new Parameters(version, origin, temperature, unlisted_bias, cap, floor, kappa, no_port, tables, hash, basis);
  Object.assign(this, { version, origin, temperature, unlisted_bias, cap, floor, kappa, no_port, tables, hash, basis });
}
const fields = ["version", "origin", "temperature", "unlisted_bias", "cap", "floor", "kappa", "no_port", "tables", "hash", "basis"];
py.record(Parameters, "Parameters", fields, true);
// As BASIS in Python.
const basisOf = {
  expert: "not yet checked against calls",
  simulated: "fitted to simulated descriptions, not yet checked against calls",
  field: "fitted to confirmed calls",
};
Object.defineProperty(Parameters.prototype, "calibration", {
  get() { return `${this.origin}: T = ${py.str(this.temperature)}, ${this.basis || basisOf[this.origin]}`; },
});
const parameters_from = (data, hash = "", basis = "") => {
  const plain = fields.slice(0, 8);
  const tables = py.dict(data.items().filter(([key]) => !plain.includes(key)));
  return new Parameters(...plain.map((key) => data.at(key)), tables, hash, basis);
};
return { Parameters, parameters_from };
