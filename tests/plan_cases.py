"""What the steps are tried on: records told apart by their derived facts, and scenes that cover the fields."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import combinations, product
from random import Random

from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.plan.conditions import names
from catalog.plan.derived_items import METHOD, ONCE, PER, PORT, Values
from catalog.plan.scene import DONE, FIELDS, Said, Scene
from catalog.plan.subject import subject_of
from catalog.plan.table import Rule
from seed_demo import load
from seed_demo.generator import generate

ALL = (*FIELDS, *DONE)
SAID = tuple(Said)
EXHAUSTIVE = 6  # fields; of a rule that reads more, every pair of them is tried
GENERATED_SEED = 20261125
CARRIED = (None, frozenset({"type2"}), frozenset({"ccs2", "type1"}), frozenset[str]())


@dataclass(frozen=True)
class Watched(Scene):
    """A scene that remembers which of its fields were asked for."""

    asked: set[str] = field(default_factory=set)

    def said(self, key: str) -> Said:
        self.asked.add(key)
        return Scene.said(self, key)


@cache
def demo_records() -> dict[str, Record]:
    """The demo catalogue's newest revisions, by code."""
    documents = {code: document for edition in load().editions for code, document in edition.records.items()}
    return {code: record_from_document(document) for code, document in sorted(documents.items())}


@cache
def generated_records(count: int) -> tuple[Record, ...]:
    return tuple(record_from_document(document) for _, document in generate(count, GENERATED_SEED))


def derived(record: Record | None, scene: Scene | None = None) -> tuple[str, ...]:
    """Every derived fact of a record in a scene where nothing is known: what rules can see of it."""
    scene = scene or Scene()
    subject = subject_of(record, scene)
    values = Values(subject, scene)
    made = [values.of("")(name).value for name in ONCE]
    for path, facts in (("ports", PORT), ("cutoff.methods", METHOD)):
        made += ["/"] + [values.of(item)(name).value for item in subject.items(path) for name in facts]
    return tuple(made)


def told_apart(records: Iterable[Record]) -> Sequence[Record]:
    """One record for each different set of derived facts."""
    found: dict[tuple[str, ...], Record] = {}
    for record in records:
        found.setdefault(derived(record), record)
    return tuple(found.values())


def fields_read(rule: Rule, record: Record | None) -> tuple[str, ...]:
    """The fields of the scene that decide a rule, through derived facts too; in the order of FIELDS."""
    scene = Watched()
    subject = subject_of(record, Scene())
    values = Values(subject, scene)
    path = PER[rule.per][0]
    for item in subject.items(path) if path else ("",):
        for name in names(rule.when):
            values.of(item)(name)
    return tuple(key for key in ALL if key in scene.asked)


@cache
def covering(fields: tuple[str, ...], seed: int) -> tuple[dict[str, Said], ...]:
    """Rows in which every two fields take every two values together: greedy, the same for the same seed."""
    draw = Random(seed)
    left = {(a, b, x, y) for a, b in combinations(range(len(fields)), 2) for x in SAID for y in SAID}
    rows = []
    while left:
        a, b, x, y = min(left) if len(left) < 50 else draw.choice(sorted(left)[:200])
        row: dict[int, Said] = {a: x, b: y}
        for at in draw.sample(range(len(fields)), len(fields)):
            if at not in row:
                row[at] = max(SAID, key=lambda value, at=at: (_gain(row, at, value, left), draw.random()))  # type: ignore[misc]
        left -= {(i, j, row[i], row[j]) for i, j in combinations(range(len(fields)), 2)}
        rows.append({fields[at]: value for at, value in row.items()})
    return tuple(rows)


def _gain(row: dict[int, Said], at: int, value: Said, left: set[tuple[int, int, Said, Said]]) -> int:
    return sum(
        ((other, at, said, value) if other < at else (at, other, value, said)) in left for other, said in row.items()
    )


def scenes_for(rule: Rule, record: Record | None, seed: int) -> Iterator[Scene]:
    """All values of the fields a rule reads on a record (every pair, if they are many), the other fields pairwise."""
    return scenes_of(fields_read(rule, record), seed)


def scenes_of(read: tuple[str, ...], seed: int) -> Iterator[Scene]:
    """All values of some fields (every pair, if they are many), the other fields pairwise."""
    others = covering(ALL, 1)
    if len(read) <= EXHAUSTIVE:
        rows: Iterable[dict[str, Said]] = (
            dict(zip(read, said, strict=True)) for said in product(SAID, repeat=len(read))
        )
    else:
        rows = (*covering(read, 2), *one_at_a_time(read))
    for number, row in enumerate(rows):
        other = others[(number + seed) % len(others)]
        yield Scene({**other, **row}, CARRIED[(number + seed) % len(CARRIED)])


def one_at_a_time(fields: Sequence[str]) -> Iterator[dict[str, Said]]:
    """All no but one, which is yes, or unknown; and all no, all unknown."""
    nothing = dict.fromkeys(fields, Said.NO)
    yield nothing
    yield dict.fromkeys(fields, Said.UNKNOWN)
    for key in fields:
        yield {**nothing, key: Said.YES}
        yield {**nothing, key: Said.UNKNOWN}
