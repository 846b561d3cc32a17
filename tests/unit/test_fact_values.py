"""What a record says of a brief fact, and that it is stored and read back whole."""

import json
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.domain.facts import Fact, State, stated
from catalog.domain.places import Place
from catalog.domain.record import Record, attribute_at, lines, list_paths, shape_of
from catalog.domain.spec.nodes import Role
from catalog.resolve.brief_facts import BY_KEY, FACTS
from catalog.resolve.fact_index import indexed_facts
from catalog.resolve.fact_values import DISPUTED, NONE, element_from_json, elements_of, facts_of, stored
from catalog.resolve.fact_words import element_words
from catalog.resolve.rows import Entry
from catalog.resolve.tables import build_tables
from tests.unit.fact_cases import drawn_record
from tests.unit.resolve_cases import FLEET, LEFT_REAR, RIGHT_FRONT, SRC, record

DRAWN = Place("left", "rear_quarter", "mid", "behind_badge", (800, 100, 500))
WAIT, REFUSES = "restraints.wait", "motion.coupled.refuses_drive"
NOT_FITTED = Fact(State.NOT_FITTED, src=(SRC,))


def methods(*items: dict[str, object]) -> Record:
    """A record with ways to cut off that state the given attributes."""
    ids = "abc"[: len(items)]
    facts = {
        f"cutoff.methods[{item}].{key}": value if isinstance(value, Fact) else stated(value, SRC)  # type: ignore[arg-type]
        for item, said in zip(ids, items, strict=True)
        for key, value in said.items()
    }
    made = record(facts=facts)
    return Record(made.identity, made.facts, {"cutoff.methods": tuple(ids)})


def said(key: str, of: Record) -> list[str] | None:
    found = elements_of(BY_KEY[key], of)
    return None if found is None else [element_words(BY_KEY[key], element) for element in found]


def test_keys_differ_and_every_fact_is_a_safety_fact() -> None:
    assert len(BY_KEY) == len(FACTS)
    for fact in FACTS:
        assert fact.attrs[-1].role in (Role.HAZARD, Role.AID), fact.key
        assert fact.reading, f"{fact.key}: a silence must be read somehow"
        path = f"{fact.inside}[x].{fact.keys[-1]}" if fact.inside else fact.keys[-1]
        assert attribute_at(shape_of(path)) is fact.attrs[-1]


# Safety facts that a brief leaves to the record's page: how a step is done rather than which one, what stands
# beside a fact that is there, and what only heavy vehicles have. Whoever adds an attribute decides.
LEFT_OUT = {
    "access": "column doors[].inside doors[].place seat windows",
    "aftermath": "pack_water pack_water_place reignition_watch tow_eye venting_signs",
    "cutoff": "methods[].cuts methods[].label methods[].opening methods[].ppe methods[].tool methods[].verify",
    "energy": "cables[].place packs[].capacity packs[].removable pyro_fuse.separates pyro_fuse.trigger roof_rails "
    "tanks[].closes_at_off tanks[].pressure tanks[].shut_off tanks[].vent",
    "heavy": "air_brakes air_suspension door_air_release door_air_release_place driven_wheel powered_body "
    "switches[].does switches[].place tilting_cab",
    "motion": "coupled.powers_down neutral ready_shown switch_place tow_mode",
    "ports[]": "current door.wedge lock.fitted lock.release lock.release_place wakes",
    "restraints": "airbags[].kind airbags[].place airbags[].stages control_unit gas_struts[].place inflators[].kind "
    "pretensioners[].place",
    "structure": "glazing[].glass lift[].place ram[].place strong[].place strut[].place",
}


def test_every_safety_fact_is_in_a_brief_or_left_out_on_purpose() -> None:
    whole = Record(record().identity, {}, dict.fromkeys(list_paths(), ("x",)))
    critical = {shape_of(line.path) for line in lines(whole) if line.attr.critical}
    used = {f"{fact.inside}[].{key}" if fact.inside else key for fact in FACTS for key in fact.keys}
    left_out = {f"{section}.{key}" for section, keys in LEFT_OUT.items() for key in keys.split()}
    assert not used & left_out
    assert critical - used == left_out


def test_silence_is_no_value() -> None:
    empty = record()
    assert all(elements_of(fact, empty) is None for fact in FACTS)
    # A way that is only named says nothing of where or how long.
    assert said("cutoff.methods.reachable_when", methods({"kind": "fuse"})) is None
    assert said("cutoff.methods.wait", methods({"kind": "fuse"})) is None


def test_none_is_only_what_is_stated_or_follows_from_the_drive() -> None:
    whole = Record(record().identity, {}, {}, {"energy.tanks": stated(True, SRC)})
    assert elements_of(BY_KEY["energy.tanks.place"], whole) == (NONE,)
    assert said("energy.tanks.place", whole) == ["stated that there is none"]
    assert said("ports.place", record(propulsion="combustion")) == ["nothing to plug in"]
    assert said("ports.place", record(propulsion="battery")) is None
    assert said("energy.tanks.place", record(propulsion="battery")) is None


def test_a_way_keeps_its_place_and_the_guides_order() -> None:
    ways = methods({"kind": "lv_negative", "place": RIGHT_FRONT}, {"kind": "fuse"}, {"place": DRAWN})
    assert said("cutoff.methods.place", ways) == [
        "12 V negative: right front quarter, mid height",
        "fuse pulled: where not stated",
        "way not stated: left rear quarter, mid height, behind the badge",
    ]


def test_the_longest_wait_counts_and_a_silent_way_is_told() -> None:
    disputed = Fact(State.DISPUTED, sides=(stated(60, SRC), stated(300, SRC)))
    assert said("cutoff.methods.wait", methods({"wait": disputed}, {"wait": 90})) == ["5 min"]
    assert said("cutoff.methods.wait", methods({"wait": 90}, {"kind": "fuse"})) == ["90 s", "another: not stated"]


def test_words_of_a_set_count_one_by_one_and_a_dispute_is_told() -> None:
    sides = (stated(("pack", "outlets"), SRC), stated(("pack",), SRC))
    found = elements_of(BY_KEY["cutoff.methods.stays_live"], methods({"stays_live": Fact(State.DISPUTED, sides=sides)}))
    assert found is not None
    assert DISPUTED in found
    assert len(found) == 3


@pytest.mark.parametrize(
    ("fact", "words"),
    [
        (stated(True, SRC), "fitted"),
        (NOT_FITTED, "not fitted"),
        (Fact(State.MAY_BE_FITTED, True, (SRC,), "option pack"), "may be fitted"),
        (Fact(State.DISPUTED, sides=(stated(True, SRC), NOT_FITTED)), "guides disagree: not fitted or fitted"),
    ],
)
def test_states_stay_apart(fact: Fact, words: str) -> None:
    assert said("energy.pyro_fuse.fitted", record(facts={"energy.pyro_fuse.fitted": fact})) == [words]


def test_a_wait_of_nothing_is_no_plain_no() -> None:
    """False and 0 are equal to Python; the texts kept of them must not be."""
    texts = dict(zip(BY_KEY, facts_of(record(facts={WAIT: stated(0, SRC), REFUSES: stated(False, SRC)})), strict=True))
    assert texts[WAIT] == '[[[{"value": 0}]]]'
    assert texts[REFUSES] == '[[[{"value": false}]]]'


def test_a_drawn_point_is_no_difference() -> None:
    there = record(ports=[Place("left", "rear_quarter", "mid", "behind_badge")])
    assert elements_of(BY_KEY["ports.place"], record(ports=[DRAWN])) == elements_of(BY_KEY["ports.place"], there)
    assert elements_of(BY_KEY["ports.place"], record(ports=[LEFT_REAR])) != elements_of(BY_KEY["ports.place"], there)


@given(st.integers(0, 10**6))
def test_every_value_is_stored_and_read_back(number: int) -> None:
    drawn = drawn_record(number)
    for fact, text in zip(FACTS, facts_of(drawn), strict=True):
        entry = json.loads(json.dumps(stored([json.loads(text)])))
        want = elements_of(fact, drawn)
        (ids,) = entry["values"]
        got = None if ids is None else tuple(element_from_json(entry["elements"][number]) for number in ids)
        assert got == want, fact.key
        assert all(element_words(fact, element) for element in want or ())


def test_tables_do_not_depend_on_the_order_of_entries() -> None:
    entries = [Entry(f"A{place:02}", each) for place, each in enumerate(FLEET[:4])]
    first = build_tables(entries)
    for order in permutations(entries):
        again = build_tables(order)
        assert again.meta["facts"] == first.meta["facts"]
        assert np.array_equal(again.arrays["facts"], first.arrays["facts"])


def test_the_index_gives_each_record_its_own_value() -> None:
    tables = build_tables(Entry(f"A{place:02}", each) for place, each in enumerate(FLEET))
    columns = indexed_facts(tables).columns
    for place, each in enumerate(FLEET):
        for number, column in enumerate(columns):
            value = int(tables.arrays["facts"][number, place])
            assert (column.said(value) or None) == elements_of(column.fact, each)
