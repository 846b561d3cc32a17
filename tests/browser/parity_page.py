"""A page in which the phone's engine stands, and the same answers in plain values from both languages."""

import dataclasses
import json
from collections.abc import Mapping, Sequence
from enum import Enum
from functools import cache
from typing import Any

from playwright.sync_api import Browser, Page

from catalog.device.engine_made import engine
from catalog.resolve.field import Field
from catalog.resolve.parameters import Parameters

# Everything goes over as one JSON text: the browser's own way of handing over objects takes longer than the engine.
_SETUP = """
([script, files]) => {
  const made = new Function(script + "\\nreturn engine;")()(JSON.parse(files));
  const { modules: m, py, np } = made;
  const plain = (x) => {
    if (x === null || x === undefined) return null;
    if (Array.isArray(x)) return x.map(plain);
    if (x instanceof py.Set) return [...x].map(plain).sort();
    if (x instanceof py.Dict) return ordered(x.items().map(([k, v]) => [String(k), plain(v)]));
    return typeof x === "object" ? ordered(x.constructor.fields.map((k) => [k, plain(x[k])])) : x;
  };
  const ordered = (pairs) => Object.fromEntries(pairs.sort(([a], [b]) => (a < b ? -1 : 1)));
  const { Lexicon, Name } = m["catalog.resolve.lexicon"];
  const phone = (name) => m[`catalog.device.phone.${name}`];
  let lexicon;
  window.names = (names) => { lexicon = new Lexicon(names.map((each) => new Name(...each))); };
  window.reading = ([text, side]) =>
    plain(m["catalog.resolve.reading.reader"].read(py.plainText(text), lexicon, side));
  let field;
  window.edition = ([arrays, meta, data, hash, basis, rate]) => {
    const rows = py.dict(Object.entries(arrays).map(([name, values]) => [name, np.array(values)]));
    const tables = new (m["catalog.resolve.tables"].Tables)(rows, py.fromJson(meta));
    const parameters = m["catalog.resolve.parameters"].parameters_from(py.fromJson(data), hash, basis);
    field = new (m["catalog.resolve.field"].Field)(tables, parameters, rate);
    lexicon = m["catalog.resolve.names"].lexicon_of(tables);
  };
  window.weighed = ([text, side]) => {
    const { cues } = m["catalog.resolve.reading.reader"].read(py.plainText(text), lexicon, side);
    const found = m["catalog.resolve.evidence"].gather(cues, field.tables, field.parameters);
    const result = m["catalog.resolve.posterior"].posterior(found, field);
    const facts = m["catalog.resolve.fact_chances"].fact_chances(result, field.tables);
    return {
      cues: plain(cues), records: result.records.tolist(), unlisted: result.unlisted, order: result.order(10).tolist(),
      facts: facts.map((each) => [each.fact.key, each.verdict, each.words, each.lower_bound,
        each.values.map((value) => [value.words, value.probability])]),
    };
  };
  window.search = (page) => {
    const asked = phone("asked").asked_from(py.fromJson({ ...page, text: py.plainText(page.text) }));
    return plain(phone("search").answer(field, asked));
  };
  window.alike = ([place, seen]) => plain(m["catalog.resolve.answering.alike"].alike_views(place, field, seen, 5));
  const sceneOf = (values, carried = null) =>
    new (m["catalog.plan.scene"].Scene)(py.fromJson(values), carried && py.frozenset(carried));
  const records = new Map();
  window.records = (documents) => {
    const { record_from_document: made } = m["catalog.domain.documents"];
    for (const [code, document] of Object.entries(documents)) records.set(code, made(py.fromJson(document)));
  };
  const { Field, Possible, plan_for_several: several } = m["catalog.plan.several"];
  const possible = (chosen) => {
    const share = 0.9 / chosen.length;
    return new Field(chosen.map((each, i) => new Possible(String(i), each, share)), 0.1);
  };
  window.plan = ([values, carried, codes]) => {
    const chosen = codes.map((code) => records.get(code));
    const scene = sceneOf(values, carried);
    if (chosen.length < 2) return plain(m["catalog.plan.steps"].plan_for(chosen[0] ?? null, scene));
    return plain(several(possible(chosen), scene));
  };
  window.brief = ([values, carried, codes]) => {
    const { Data, BriefInput, BriefVehicle, Sure } = m["catalog.plan.brief.model"];
    const { compose, brief_plan } = m["catalog.plan.brief.composing"];
    const chosen = codes.map((code) => records.get(code));
    const scene = sceneOf(values, carried);
    const vehicles = chosen.map((each, i) =>
      new BriefVehicle(String(i), each.identity.title, "as it may be", each, new Sure("likely", "about 7 in 10")));
    const of = new BriefInput("B", new Data(14, "edition 14, 2026-03-02", true), brief_plan(possible(chosen), scene),
      vehicles, scene, new Sure("unlikely", "about 1 in 10"));
    const made = compose(of);
    return [made.radio_text, made.seconds, plain(made)];
  };
  window.record = ([values, code, ticks, posture]) => {
    const record = records.get(code);
    const scene = sceneOf(values);
    const { Meta, Ticked } = phone("model");
    const ticked = py.dict(Object.entries(ticks).map(([key, each]) => [key, new Ticked(...each)]));
    const meta = new Meta("QPW-TF3", 14, "edition 14, 2026-03-02", 2, true);
    const plan = m["catalog.plan.steps"].plan_for(record, scene);
    const made = m["catalog.draw.strip"].strip(phone("drawn").drawn_of(record, plan, scene), posture);
    const view = phone("record").record_view(record, meta, scene, ticked);
    const facts = phone("facts").facts_of(record, meta);
    return [plain(view), plain(facts), m["catalog.draw.svg"].svg(made, "s"), plain(made.twin)];
  };
}
"""


def plain(value: Any) -> Any:
    """As `plain` in the page."""
    if value is None or type(value) in _PLAIN:
        return value
    if type(value) is tuple or type(value) is list:
        return [plain(each) for each in value]
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, str | int | float):
        return value
    if isinstance(value, frozenset | set):
        return sorted(plain(each) for each in value)
    if isinstance(value, Mapping):
        return {str(key): plain(each) for key, each in value.items()}
    if isinstance(value, Sequence) and not hasattr(value, "_fields"):
        return [plain(each) for each in value]
    kind: Any = type(value)
    return {name: plain(getattr(value, name)) for name in _fields(kind)}


_PLAIN = (str, int, float, bool)


@cache
def _fields(kind: type) -> tuple[str, ...]:
    """Of a named tuple or a dataclass."""
    named: tuple[str, ...] | None = getattr(kind, "_fields", None)
    return named if named is not None else tuple(field.name for field in dataclasses.fields(kind))


def near(value: Any) -> Any:
    """The same with numbers to nine decimals."""
    if isinstance(value, list):
        return [near(each) for each in value]
    if isinstance(value, dict):
        return {key: near(each) for key, each in value.items()}
    return round(value, 9) if isinstance(value, float) else value


def engine_in(browser: Browser) -> Page:
    """A page in which the engine stands."""
    opened = browser.new_page()
    unit = engine()
    opened.evaluate(_SETUP, [unit.script, json.dumps(dict(unit.files))])
    return opened


def asked(page: Page, name: str, given: Sequence[Any]) -> list[Any]:
    """What a function of the page answers to each of `given`."""
    told = page.evaluate(
        "([name, given]) => JSON.stringify(JSON.parse(given).map((each) => window[name](each) ?? null))",
        [name, json.dumps(given)],
    )
    answers: list[Any] = json.loads(told)
    return answers


def records_in(page: Page, documents: Mapping[str, Mapping[str, Any]]) -> None:
    """Hand records over by their codes, once for all that is asked of them."""
    asked(page, "records", [documents])


def edition_in(page: Page, field: Field) -> None:
    """Hand the tables and the parameters over, as a bundle does."""
    arrays = {name: values.tolist() for name, values in field.tables.arrays.items()}
    parameters = field.parameters
    given = [arrays, dict(field.tables.meta), parameter_set(parameters), parameters.hash, parameters.basis]
    asked(page, "edition", [[*given, field.unlisted_rate]])


def parameter_set(parameters: Parameters) -> dict[str, Any]:
    """A set as one object, as a bundle holds it."""
    plain_ = ("version", "origin", "temperature", "unlisted_bias", "cap", "floor", "kappa", "no_port")
    return {**{name: getattr(parameters, name) for name in plain_}, **parameters.tables}
