"""The phone's engine in a real browser gives what the server's gives: texts of every set, every record's steps.

The run takes a seeded sample of the texts; `python -m tests.browser.test_parity` takes all of them.
"""

import dataclasses
import json
import shutil
from collections.abc import Iterator, Mapping, Sequence
from enum import Enum
from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from catalog.device.engine_made import engine
from catalog.domain.documents import document_from_record
from catalog.domain.folding import fold_name
from catalog.plan.scene import Said, Scene
from catalog.plan.several import Field, Possible, plan_for_several
from catalog.plan.steps import plan_for
from catalog.resolve.evidence import gather
from catalog.resolve.fact_chances import fact_chances
from catalog.resolve.field import Field as Weighed
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.names import lexicon_of
from catalog.resolve.parameters import shipped
from catalog.resolve.posterior import posterior
from catalog.resolve.reading.reader import read
from catalog.resolve.rows import Entry, row_of
from catalog.resolve.tables import tables_of
from tests.plan_cases import ALL, CARRIED, demo_records

TESTS = Path(__file__).parents[1]
SETS = (*sorted((TESTS / "eval" / "readings").glob("*.jsonl")), TESTS / "eval" / "sets" / "resolve.jsonl")
VECTORS = json.loads((TESTS / "vectors" / "reading.json").read_text(encoding="utf-8"))
READ, PLANS, WEIGHED, RATE = 400, 200, 150, 0.12

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
  let lexicon;
  window.names = (names) => { lexicon = new Lexicon(names.map((each) => new Name(...each))); };
  window.reading = ([text, side]) =>
    plain(m["catalog.resolve.reading.reader"].read(py.plainText(text), lexicon, side));
  let field;
  window.edition = ([arrays, meta, data, hash, rate]) => {
    const rows = py.dict(Object.entries(arrays).map(([name, values]) => [name, np.array(values)]));
    const tables = new (m["catalog.resolve.tables"].Tables)(rows, py.fromJson(meta));
    const parameters = m["catalog.resolve.parameters"].parameters_from(py.fromJson(data), hash);
    field = new (m["catalog.resolve.field"].Field)(tables, parameters, rate);
    lexicon = m["catalog.resolve.names"].lexicon_of(tables);
  };
  window.weighed = ([text, side]) => {
    const { cues } = m["catalog.resolve.reading.reader"].read(py.plainText(text), lexicon, side);
    const found = m["catalog.resolve.evidence"].gather(cues, field.tables, field.parameters);
    const result = m["catalog.resolve.posterior"].posterior(found, field);
    const facts = m["catalog.resolve.fact_chances"].fact_chances(result, field.tables);
    return {
      records: result.records.tolist(), unlisted: result.unlisted, order: result.order(10).tolist(),
      facts: facts.map((each) => [each.fact.key, each.verdict, each.words, each.lower_bound,
        each.values.map((value) => [value.words, value.probability])]),
    };
  };
  window.plan = ([values, carried, documents]) => {
    const scene = new (m["catalog.plan.scene"].Scene)(py.fromJson(values), carried && py.frozenset(carried));
    const records = documents.map((each) => m["catalog.domain.documents"].record_from_document(py.fromJson(each)));
    if (records.length < 2) return plain(m["catalog.plan.steps"].plan_for(records[0] ?? null, scene));
    const { Field, Possible, plan_for_several: several } = m["catalog.plan.several"];
    const share = 0.9 / records.length;
    return plain(several(new Field(records.map((each, i) => new Possible(String(i), each, share)), 0.1), scene));
  };
}
"""


def plain(value: Any) -> Any:
    """As `plain` in the page."""
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, frozenset | set):
        return sorted(plain(each) for each in value)
    if isinstance(value, Mapping):
        return {str(key): plain(each) for key, each in value.items()}
    if hasattr(value, "_fields"):
        return {name: plain(getattr(value, name)) for name in value._fields}
    if isinstance(value, Sequence):
        return [plain(each) for each in value]
    return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    opened = engine_in(browser)
    yield opened
    opened.close()


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


def written() -> list[tuple[str, str]]:
    rows = [json.loads(line) for path in SETS for line in path.read_text(encoding="utf-8").splitlines() if line]
    return [(row["text"], row.get("driving_side", "left")) for row in rows if "text" in row]


def same_reading(page: Page, texts: Sequence[tuple[str, str]], lexicon: Lexicon) -> None:
    asked(page, "names", [[[n.folded, n.shown, n.kind] for n in lexicon.names]])
    theirs = asked(page, "reading", texts)
    for (text, side), found in zip(texts, theirs, strict=True):
        assert found == plain(read(text, lexicon, side)), text


def test_texts_of_every_set_are_read_alike(page: Page) -> None:
    all_are_read_alike(page, READ)


def all_are_read_alike(page: Page, count: int | None = None) -> int:
    """count: how many, None for all. Returns how many there were."""
    tables = tables_of(row_of(Entry(code, record)) for code, record in demo_records().items())
    texts = written()
    assert len(texts) > 1500
    chosen = texts if count is None else Random("read").sample(texts, count)
    same_reading(page, chosen, lexicon_of(tables))
    return len(chosen)


def test_the_vectors_are_read_as_they_say(page: Page) -> None:
    lexicon = Lexicon(Name(fold_name(shown), shown, kind) for shown, kind in VECTORS["names"])
    texts = [(row["text"], row["driving_side"]) for row in VECTORS["texts"]]
    assert any(ord(char) > 0xFFFF for text, _ in texts for char in text)
    same_reading(page, texts, lexicon)


def test_odd_characters_are_read_alike(page: Page) -> None:
    draw = Random("odd")
    pool = "aé ß\u0301Щ漢🚑\u200d\ud7ff\ufeff²³ⅷ٣\u00a0\u2028'’-.,!?0123456789 port left white bus"
    texts = [("".join(draw.choices(pool, k=draw.randint(1, 60))), draw.choice(("left", "right"))) for _ in range(300)]
    same_reading(page, texts, Lexicon())


def test_every_probability_is_the_same(page: Page) -> None:
    """Within a millionth, in the same order, with the same facts beside them in the same words."""
    tables = tables_of(row_of(Entry(code, record)) for code, record in demo_records().items())
    field, lexicon = Weighed(tables, shipped(), RATE), lexicon_of(tables)
    arrays = {name: values.tolist() for name, values in tables.arrays.items()}
    asked(page, "edition", [[arrays, dict(tables.meta), parameter_set(), shipped().hash, RATE]])
    texts = Random("weighed").sample(written(), WEIGHED)
    theirs = asked(page, "weighed", texts)
    worst = 0.0
    for (text, side), found in zip(texts, theirs, strict=True):
        result = posterior(gather(read(text, lexicon, side).cues, tables, field.parameters), field)
        ours = [*result.records.tolist(), result.unlisted]
        told = [*found["records"], found["unlisted"]]
        worst = max(worst, *(abs(a - b) for a, b in zip(ours, told, strict=True)))
        assert found["order"] == result.order(10).tolist(), text
        facts = [
            [f.fact.key, f.verdict.value, f.words, f.lower_bound, [[v.words, v.probability] for v in f.values]]
            for f in fact_chances(result, tables)
        ]
        assert near(found["facts"]) == near(facts), text
    assert worst < 1e-6


def near(value: Any) -> Any:
    """The same with numbers to nine decimals."""
    if isinstance(value, list):
        return [near(each) for each in value]
    return round(value, 9) if isinstance(value, float | int) else value


def parameter_set() -> dict[str, Any]:
    """The shipped set as one object, as a bundle holds it."""
    plain_ = ("version", "origin", "temperature", "unlisted_bias", "cap", "floor", "kappa", "no_port")
    return {**{name: getattr(shipped(), name) for name in plain_}, **shipped().tables}


def test_steps_are_alike_for_every_record_in_many_scenes(page: Page) -> None:
    draw, records = Random("parity"), demo_records()
    scenes, ours = [], []
    for number in range(PLANS):
        row = {key: draw.choice(list(Said)) for key in draw.sample(ALL, draw.choice((0, 3, 6, 12, len(ALL))))}
        scene = Scene(row, draw.choice(CARRIED))
        first = list(records)[number % len(records)]
        codes = list(dict.fromkeys((first, *draw.sample(list(records), draw.choice((0, 0, 1, 2))))))
        chosen = [records[code] for code in codes] if number else []
        share = 0.9 / max(1, len(chosen))
        several = Field([Possible(str(i), record, share) for i, record in enumerate(chosen)], 0.1)
        plan: Any = (
            plan_for_several(several, scene) if len(chosen) > 1 else plan_for(chosen[0] if chosen else None, scene)
        )
        ours.append(plain(plan))
        carried = None if scene.carried is None else sorted(scene.carried)
        scenes.append([plain(row), carried, [document_from_record(record) for record in chosen]])
    theirs = asked(page, "plan", scenes)
    for number, (found, wanted) in enumerate(zip(theirs, ours, strict=True)):
        assert found == wanted, f"plan {number}: {scenes[number][0]}"


if __name__ == "__main__":
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        print(f"{all_are_read_alike(engine_in(chromium))} texts are read alike")
        chromium.close()
