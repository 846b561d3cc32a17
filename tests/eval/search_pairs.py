"""Look-alikes that differ in one safety fact: what is said of the fact when either of a pair is described.

To the generated catalogue a twin is added for each of 250 records of the test families: the same in
all that can be seen and in name, but for one safety fact. Half of the pairs differ in one look as
well, which a witness may mention or not, and get wrong. A fact that only the twin contradicts must
not be shown as the same on all.
"""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

from catalog.resolve.brief_facts import FACTS
from catalog.resolve.evidence import gather
from catalog.resolve.fact_chances import LISTED, Verdict, fact_chances
from catalog.resolve.field import Field
from catalog.resolve.posterior import posterior
from catalog.resolve.rows import Row
from catalog.resolve.simulate import USUAL, Simulator, subject_of
from catalog.resolve.tables import tables_of
from catalog.resolve.truth import TRUTHS
from tests.eval.search_facts import SAFETY, said_of
from tests.eval.search_ground import SEED, Simulation

PAIRS = 250
_LOOKS = ("propulsion", "port_place", "front_face", "front_lamps", "rear_lamps", "roof", "handles", "tailpipe")
_PLACE = {name: place for place, name in enumerate(TRUTHS)}


@dataclass(frozen=True, slots=True)
class Pair:
    """Two vehicles. fact: the place of the one they differ in. told: whether a look tells them apart as well."""

    both: tuple[Row, Row]
    fact: int
    told: bool


@dataclass(slots=True)
class Found:
    """first: descriptions in which one of the pair is the likeliest record; all else is counted over these.

    shown: the differing fact is shown as the same on all. wrong: of those. own: the vehicle's own value is on the
    screen. mass: share of the pair's probability that the vehicle's own record has, added up."""

    descriptions: int = 0
    first: int = 0
    shown: int = 0
    wrong: int = 0
    own: int = 0
    mass: float = 0.0


def paired_up(simulated: Simulation) -> tuple[Field, list[Pair]]:
    """The catalogue with its twins."""
    draw = Random(f"pairs/{SEED}")
    rows = list(simulated.rows)
    pairs = list(_pairs([rows[at] for at in simulated.test], rows, draw))
    tables = tables_of([*rows, *(pair.both[1] for pair in pairs)])
    return replace(simulated.ground.field, tables=tables), pairs


def _pairs(chosen: Sequence[Row], rows: Sequence[Row], draw: Random) -> Iterator[Pair]:
    for number, row in enumerate(draw.sample(chosen, PAIRS)):
        stated = [f for f, text in enumerate(row.facts) if FACTS[f].weight >= SAFETY and text != "null"]
        if not stated:
            continue
        fact, told = draw.choice(stated), number % 2 == 0
        twin = replace(row, code=f"{row.code}-twin", facts=_changed(row.facts, fact, [r.facts for r in rows], draw))
        if told:
            seen = [_PLACE[look] for look in _LOOKS if row.truths[_PLACE[look]][0] in "[{"]
            look = draw.choice(seen)
            twin = replace(twin, truths=_changed(row.truths, look, [r.truths for r in rows], draw))
        yield Pair((row, twin), fact, told)


def _changed(values: tuple[str, ...], place: int, of_all: Sequence[tuple[str, ...]], draw: Random) -> tuple[str, ...]:
    """With another value, stated by some other record, in one place."""
    others = sorted({other[place] for other in of_all if other[place] != values[place] and other[place][0] in "[{"})
    return (*values[:place], draw.choice(others), *values[place + 1 :]) if others else values


def measured(simulated: Simulation, each: int) -> dict[bool, Found]:
    """By whether a look tells the two apart. each: descriptions of a pair."""
    field, pairs = paired_up(simulated)
    codes = {code: place for place, code in enumerate(field.tables.meta["codes"])}
    simulator = Simulator(simulated.world, USUAL, SEED)
    made = {True: Found(), False: Found()}
    for number, pair in enumerate(pairs):
        for turn in range(each):
            draw = Random(f"pairs/{SEED}/{number}/{turn}")
            own, other = pair.both if draw.random() < 0.5 else pair.both[::-1]
            said = simulator.seen(subject_of(own), draw).cues
            result = posterior(gather(said, field.tables, field.parameters), field)
            found = made[pair.told]
            found.descriptions += 1
            if int(result.order(1)[0]) not in (codes[own.code], codes[other.code]):
                continue
            found.first += 1
            first, second = (float(result.records[codes[row.code]]) for row in (own, other))
            found.mass += first / (first + second)
            chance = fact_chances(result, field.tables)[pair.fact]
            true = json.loads(own.facts[pair.fact])
            same, right = chance.verdict is Verdict.SAME, said_of(chance) == true
            found.shown += same
            found.wrong += same and not right
            stored = [[chance.column.stored[n] for n in value or ()] for value in chance.column.values]
            found.own += right if same else float(chance.shares[stored.index(true)]) > LISTED
    return made
