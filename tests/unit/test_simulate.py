"""Simulated descriptions: repeatable, by the shares they promise, in values the search knows."""

import json
from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from catalog.domain.attributes import value_of
from catalog.resolve.rows import Entry, row_of
from catalog.resolve.simulate import (
    USUAL,
    Law,
    Simulated,
    Simulator,
    Witness,
    World,
    subject_of,
    text_of,
    unlisted,
    witnesses,
)  # fmt: skip
from catalog.resolve.simulate.law import SEEN
from catalog.resolve.simulate.mishearing import heard_shares, misheard
from catalog.resolve.simulate.tables import law_table, sayings
from tests.unit.resolve_cases import FLEET

WORLD = World([subject_of(row_of(Entry(f"A{n:02}", record))) for n, record in enumerate(FLEET)])
PICKUP = WORLD.subjects[0]  # port at the left rear quarter, mid height


def drawn(count: int = 400, seed: int = 1, **changes: float) -> list[Simulated]:
    simulator = Simulator(WORLD, replace(USUAL, **changes), seed)
    return [simulator.of(PICKUP, number) for number in range(count)]


def test_the_same_numbers_give_the_same_descriptions() -> None:
    first, second, other = drawn(40), drawn(40), drawn(40, seed=2)
    assert [d.cues for d in first] == [d.cues for d in second]
    assert [text_of(d, 1, n) for n, d in enumerate(first)] == [text_of(d, 1, n) for n, d in enumerate(second)]
    assert [d.cues for d in first] != [d.cues for d in other]


def test_every_value_said_is_one_that_cues_may_have() -> None:
    for description in drawn():
        assert description.cues
        for cue in description.cues:
            assert all(value_of(cue.attribute, value) == value for value in cue.values), cue


@pytest.mark.parametrize("witness", list(witnesses(USUAL)))
def test_chances_of_what_is_said_add_up_to_one(witness: Witness) -> None:
    law = Law(WORLD)
    for subject in WORLD.subjects:
        for attribute in SEEN:
            chances = law.chances(attribute, subject.truths[attribute], witness)
            assert sum(chances.values()) == pytest.approx(1.0), attribute
    for part in ("side", "end", "level"):
        assert sum(law.place(["left", "rear_quarter", "mid"], part, witness).values()) == pytest.approx(1.0)


def test_witnesses_come_by_their_shares() -> None:
    kinds = witnesses(USUAL)
    assert sum(kinds.values()) == pytest.approx(1.0)
    assert sum(share for kind, share in kinds.items() if kind.mirrored) == pytest.approx(USUAL.mirrored)
    met = drawn(1500)
    for name, share in (("mirrored", 0.12), ("careless", 0.2), ("stereotype", 0.15)):
        # Four standard errors of a share of 1,500.
        assert sum(bool(getattr(d.witness, name)) for d in met) / 1500 == pytest.approx(share, abs=0.042), name


def test_mirrored_witnesses_swap_the_sides() -> None:
    def sides(mirrored: float) -> Counter[str]:
        cues = [
            c for d in drawn(mirrored=mirrored, unlisted=0, careless=0) for c in d.cues if c.attribute == "port_place"
        ]
        return Counter(cue.values[0].split("|")[0] for cue in cues if not cue.viewpoint)

    straight, swapped = sides(0.0), sides(1.0)
    assert straight["left"] > 5 * straight["right"]
    assert swapped["right"] > 5 * swapped["left"]


def test_unlisted_vehicles_are_none_of_the_records() -> None:
    met = drawn(1500, unlisted=0.3)
    strange = [d.subject for d in met if d.subject.code is None]
    assert len(strange) / 1500 == pytest.approx(0.3, abs=0.05)
    listed = {shown for subject in WORLD.subjects for shown, kind in subject.names if kind == "model"}
    assert all(shown not in listed for subject in strange for shown, kind in subject.names if kind == "model")
    assert {kind for subject in strange for _, kind in subject.names} == {"make", "model"}
    kept = unlisted(PICKUP, WORLD, replace(USUAL, mutated=0.0, new_make=0.0), Random(1))
    assert kept.truths == PICKUP.truths
    assert kept.names[0] == ("Ostrel", "make")


def test_names_arrive_right_by_the_share_of_the_law() -> None:
    draw = Random(5)
    heard = [misheard("Packhorse", ["Tiller"], heard_shares(False), draw) for _ in range(3000)]
    assert heard.count("Packhorse") / 3000 == pytest.approx(law_table()["heard"]["exact"], abs=0.035)
    assert heard.count("Tiller") / 3000 == pytest.approx(law_table()["heard"]["another"], abs=0.015)
    assert len(set(heard)) > 50


def test_no_names_where_none_are_to_be_said() -> None:
    assert not [cue for d in drawn(named=0.0) for cue in d.cues if cue.attribute == "name"]


def test_words_are_there_for_whatever_can_be_said() -> None:
    law = Law(WORLD)
    known = sayings()
    for attribute in set(SEEN) - {"years", "colour"}:
        row = law_table()["alike"][attribute]
        missing = set(row) - set(known[attribute])
        assert not missing, (attribute, missing)
    assert set(law.chances("colour", None, Witness())) == set(law_table()["colours"]) <= set(known["colour"])
    texts = [text_of(d, 1, n) for n, d in enumerate(drawn())]
    assert all(text.strip() and "{" not in text for text in texts)
    assert json.dumps(texts)
