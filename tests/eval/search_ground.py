"""What the search is measured on: 2,000 generated records, and simulated descriptions of them.

Vehicles are split by platform family, so that no relative of a test vehicle is met in calibration;
the whole catalogue is searched in both. Popularity falls as rank ** -0.8.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from random import Random

import numpy as np

from catalog.domain.documents import record_from_document
from catalog.resolve.calibration.labels import Label
from catalog.resolve.cue import ASKED, Cue
from catalog.resolve.field import Field
from catalog.resolve.labels import truth_words, value_words
from catalog.resolve.names import lexicon_of
from catalog.resolve.parameters import shipped
from catalog.resolve.reading.reader import read
from catalog.resolve.rows import Entry, Row, row_of
from catalog.resolve.simulate import (
    CORRELATED,
    SHIFTED,
    USUAL,
    WORST,
    Setting,
    Simulated,
    Simulator,
    Subject,
    World,
    subject_of,
    text_of,
)  # fmt: skip
from catalog.resolve.tables import Tables, tables_of
from catalog.services.notes import record_text
from seed_demo.generator import families

SEED = 20261126
RATE = 0.12


@dataclass(frozen=True, eq=False)
class Query:
    """One description. words: for those that search by words. target: position of the record, -1 for a vehicle not
    listed. family: what it is resampled with. simulated: where it comes from, None for hand-written ones."""

    words: str
    cues: tuple[Cue, ...]
    target: int
    family: str
    simulated: Simulated | None = None


@dataclass(frozen=True, eq=False)
class Ground:
    """One catalogue as every system sees it. names, notes: per record, in the order of the tables."""

    field: Field
    names: Sequence[str]
    notes: Sequence[str]

    @property
    def tables(self) -> Tables:
        return self.field.tables

    @property
    def prior(self) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
        return np.asarray(self.tables.arrays["prior"])


def ground_of(tables: Tables, texts: Sequence[str]) -> Ground:
    """texts: what is written about each record. Notes are that, after the names and all looks in words."""
    names = tables.meta["titles"]
    notes = [" ".join((names[at], *_looks(tables, at), text)) for at, text in enumerate(texts)]
    return Ground(Field(tables, shipped(), RATE), names, notes)


def _looks(tables: Tables, at: int) -> Iterator[str]:
    for attribute, signatures in tables.meta["signatures"].items():
        signature = signatures[tables.arrays[f"sig_{attribute}"][at]]
        if signature is not None and attribute not in ("vin", "category"):
            yield truth_words(attribute, signature)


@dataclass(frozen=True, eq=False)
class Simulation:
    """The generated catalogue and its vehicles. rows: in the order of the tables. calibration, test: positions by
    platform family. kept: descriptions made before, by kind and by whether they are for calibration."""

    ground: Ground
    rows: Sequence[Row]
    world: World
    family: Sequence[str]
    popularity: Sequence[float]
    calibration: Sequence[int]
    test: Sequence[int]
    kept: dict[tuple[str, bool], list[Query]] = field(default_factory=dict)

    @property
    def shares(self) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
        """How often each vehicle is described: its popularity, which systems see half of in the prior."""
        return np.array(self.popularity) / sum(self.popularity)

    def queries(self, kind: "Kind", count: int, *, calibration: bool = False) -> list[Query]:
        """`count` descriptions of vehicles drawn by popularity. Fewer are the first of more, and are not made again."""
        made = self.kept.get((kind.name, calibration), [])
        if len(made) < count:
            made = self._drawn(kind, count, calibration=calibration)
            self.kept[kind.name, calibration] = made
        return made[:count]

    def _drawn(self, kind: "Kind", count: int, *, calibration: bool) -> list[Query]:
        seed = f"{SEED}/{kind.name}/{calibration}"
        draw, places = Random(seed), self.calibration if calibration else self.test
        weights = [1.0 if kind.uniform else self.popularity[at] for at in places]
        simulator = Simulator(self.world, kind.setting, hash_of(seed))
        made = []
        for number, at in enumerate(draw.choices(places, weights, k=count)):
            subject = kind.changed(self.world.subjects[at], self.world, draw)
            made.append(self.query(simulator.of(subject, number), at, number, raw=kind.raw))
        return made

    def query(self, simulated: Simulated, at: int, number: int, *, raw: bool) -> Query:
        """What was said, as cues or, raw, as words that were read."""
        cues = simulated.cues
        words = text_of(simulated, SEED, number) if raw else words_of(cues)
        if raw:
            cues = read(words, lexicon_of(self.ground.tables), "left").own
        target = -1 if simulated.subject.code is None else at
        return Query(words, cues, target, self.family[at], simulated)


@dataclass(frozen=True, slots=True)
class Kind:
    """A data set. wrong_make: the vehicle is called by another's make. raw: as text, read by the reader."""

    name: str
    setting: Setting = USUAL
    uniform: bool = False
    wrong_make: bool = False
    raw: bool = False

    def changed(self, subject: Subject, world: World, draw: Random) -> Subject:
        if not self.wrong_make:
            return subject
        makes = [shown for shown, kind in draw.choice(world.subjects).names if kind == "make"]
        others = [(shown, kind) for shown, kind in subject.names if kind != "make"]
        return replace(subject, names=(*((shown, "make") for shown in makes), *others))


KINDS = {
    kind.name: kind
    for kind in (
        Kind("A in law"),
        Kind("B correlated", CORRELATED),
        Kind("C shifted", SHIFTED),
        Kind("C worst", WORST),
        Kind("D any vehicle alike", uniform=True),
        Kind("E unlisted 5 %", replace(USUAL, unlisted=0.05)),
        Kind("E unlisted 30 %", replace(USUAL, unlisted=0.3)),
        Kind("F no names", replace(USUAL, named=0.0)),
        Kind("G sides swapped", replace(USUAL, mirrored=1.0)),
        Kind("G wrong make", wrong_make=True),
        Kind("I raw text", raw=True),
    )
}


# Of vehicles that are not listed alone, and of witnesses who swap sides: what is seldom shown wrong, and yet may be.
UNLISTED_ALONE = replace(USUAL, unlisted=1.0)
AT_RISK = {
    "A in law": Kind("unlisted alone", UNLISTED_ALONE),
    "I raw text": Kind("unlisted alone, raw text", UNLISTED_ALONE, raw=True),
}


def targets(queries: Sequence[Query]) -> "np.ndarray[tuple[int], np.dtype[np.intp]]":
    """Positions of what was meant, -1 for vehicles not listed."""
    return np.array([query.target for query in queries], dtype=np.intp)


def labels_of(queries: Sequence[Query], tables: Tables) -> list[Label]:
    """The same as what a calibration is fitted to and measured on."""
    codes = tables.meta["codes"]
    return [Label(query.cues, "" if query.target < 0 else codes[query.target]) for query in queries]


def hash_of(seed: str) -> int:
    """A number for a name, the same on every machine."""
    return int.from_bytes(seed.encode(), "big") % (2**61 - 1)


def words_of(cues: Sequence[Cue]) -> str:
    """What was said in the catalogue's own words, denials left out: what a search by words is best given."""
    said = [cue for cue in cues if cue.vehicle == ASKED and not cue.denied]
    return " ".join(c.heard if c.attribute == "name" else value_words(c.attribute, c.values[0]) for c in said)


def simulation(count: int) -> Simulation:
    """The catalogue of `count` records."""
    made: list[tuple[Row, str, str]] = []
    for number, family in enumerate(families(count, SEED)):
        for code, document in family.records:
            record = record_from_document(document)
            platform = record.identity.platform or f"family {number}"
            made.append((row_of(Entry(code, record)), record_text(record), platform))
    ranks = list(range(1, len(made) + 1))
    Random(SEED).shuffle(ranks)
    popular = [rank**-0.8 for rank in ranks]
    made = [(replace(row, popularity=p), text, name) for (row, text, name), p in zip(made, popular, strict=True)]
    made.sort(key=lambda entry: entry[0].code)
    rows = [row for row, _, _ in made]
    family_of = [platform for _, _, platform in made]
    known = sorted(set(family_of))
    Random(SEED + 1).shuffle(known)
    held = set(known[: len(known) // 3])
    return Simulation(
        ground=ground_of(tables_of(rows), [text for _, text, _ in made]),
        rows=rows,
        world=World([subject_of(row) for row in rows]),
        family=family_of,
        popularity=[row.popularity or 0.0 for row in rows],
        calibration=[at for at, name in enumerate(family_of) if name in held],
        test=[at for at, name in enumerate(family_of) if name not in held],
    )
