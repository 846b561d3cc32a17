"""The most protective value: whatever the order of the vehicles, never less cautious than one."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.documents import record_from_document
from catalog.domain.facts import NOT_STATED, Fact, State, stated
from catalog.domain.places import Place
from catalog.domain.protective import DOUBTFUL, Protective, protective, readings
from catalog.domain.record import attribute_at, lines
from catalog.domain.spec import TREE, Attr
from catalog.domain.spec.nodes import Equipment, ListOf, Number, Order, Role, Struct, Terms, YesNo
from tests.sample import sample
from tests.strategies import facts as stored_facts


def _every_attribute() -> dict[str, Attr]:
    """Attributes by path, list items without their id: "ports[].place"."""
    found: dict[str, Attr] = {}
    stack: list[tuple[str, Any]] = [(section.key, section) for section in TREE]
    while stack:
        path, node = stack.pop(0)
        if isinstance(node, Attr):
            found[path] = node
        else:
            inside = f"{path}[]" if isinstance(node, ListOf) else path
            stack.extend((f"{inside}.{child.key}", child) for child in node.children)
    return found


PATHS = _every_attribute()
ATTRIBUTES = list(PATHS.values())
SAFETY = [path for path, attr in PATHS.items() if attr.critical]


def _named(attr: Attr) -> str:
    return f"{attr.key}-{attr.label}"


@pytest.mark.parametrize("attr", ATTRIBUTES, ids=_named)
def test_the_specification_declares_how_silence_is_read(attr: Attr) -> None:
    """A hazard has a reading as present or of what it leaves doubtful; an aid only as absent."""
    if attr.role is Role.AID:
        assert {reading.as_ for reading in attr.readings} == {"absent"}
    elif attr.role is Role.HAZARD:
        assert attr.readings
    else:
        assert not attr.readings
        assert attr.order is Order.NONE
    assert all(reading.words for reading in attr.readings)
    if attr.critical:
        assert attr.order is not Order.NONE


@pytest.mark.parametrize("attr", ATTRIBUTES, ids=_named)
def test_the_specification_orders_values_that_can_be_ordered(attr: Attr) -> None:
    match attr.order:
        case Order.MOST | Order.LEAST:
            assert isinstance(attr.kind, Number)
        case Order.UNION:
            assert isinstance(attr.kind, Terms)
            assert attr.kind.many
        case Order.ONE:
            assert isinstance(attr.kind, Terms | YesNo | Equipment)
            assert attr.best is not None
            if isinstance(attr.kind, Terms):
                assert attr.best in attr.kind.vocabulary.keys
        case _:
            assert attr.best is None


def test_the_specification_has_no_reserved_or_doubtful_key() -> None:
    """Paths are split at dots and brackets; keys of facts and items never stand in one."""
    stack: list[Any] = list(TREE)
    while stack:
        node = stack.pop()
        assert node.key.isascii()
        assert node.key.replace("_", "").isalnum()
        assert node.key not in ("value", "src", "id")
        keys = [child.key for child in getattr(node, "children", ())]
        assert len(keys) == len(set(keys))
        if isinstance(node, Struct):
            assert node.children
        stack.extend(getattr(node, "children", ()))


@st.composite
def _facts(draw: st.DrawFn) -> tuple[Attr, list[Fact]]:
    path = draw(st.sampled_from(SAFETY))
    stored = draw(st.lists(st.none() | stored_facts(PATHS[path]), min_size=1, max_size=4))
    return PATHS[path], [_fact(path, entry) for entry in stored]


def _fact(path: str, entry: dict[str, Any] | None) -> Fact:
    """Through a document, so that facts are read as the product reads them."""
    if entry is None:
        return NOT_STATED
    section, *rest = path.replace("[]", ".[]").split(".")
    node: Any = entry
    for key in reversed(rest):
        node = [{"id": "a", **node}] if key == "[]" else {key: node}
    return record_from_document({**sample(), section: node}).fact(path.replace("[]", "[a]"))


@settings(max_examples=100)
@given(_facts(), st.randoms(use_true_random=False))
def test_the_order_of_vehicles_does_not_matter(given_: tuple[Attr, list[Fact]], random: Any) -> None:
    attr, facts = given_
    shuffled = list(facts)
    random.shuffle(shuffled)
    assert protective(attr, shuffled) == protective(attr, facts)
    repeated = protective(attr, facts + facts)
    assert (repeated.values, repeated.readings) == (protective(attr, facts).values, protective(attr, facts).readings)


@settings(max_examples=100)
@given(_facts())
def test_it_is_never_less_cautious_than_any_member(given_: tuple[Attr, list[Fact]]) -> None:
    attr, facts = given_
    whole = protective(attr, facts)
    assert whole.members == len(facts)
    for fact in facts:
        _assert_as_cautious(attr, whole, protective(attr, [fact]))
        for claim in fact.claims():
            _assert_as_cautious(attr, whole, protective(attr, [claim]))


def _assert_as_cautious(attr: Attr, whole: Protective, one: Protective) -> None:
    assert set(one.readings) <= set(whole.readings)
    match attr.order:
        case Order.MOST:
            assert not one.values or whole.values[0] >= one.values[0]  # type: ignore[operator]
        case Order.LEAST:
            assert not one.values or whole.values[0] <= one.values[0]  # type: ignore[operator]
        case Order.UNION:
            assert not one.values or set(one.values[0]) <= set(whole.values[0])  # type: ignore[arg-type]
        case Order.ONE:
            assert whole.values == (attr.best,) or (
                attr.best not in one.values and set(one.values) <= set(whole.values)
            )
            assert not one.not_fitted or whole.not_fitted or whole.values == (attr.best,)
        case _:
            assert set(one.values) <= set(whole.values)
            assert whole.not_fitted or not one.not_fitted


WAIT = attribute_at("restraints.wait")
REFUSES = attribute_at("motion.coupled.refuses_drive")
BRAKES = attribute_at("heavy.air_brakes")
WHEELS = attribute_at("aftermath.wheels_turning")
WAKES = attribute_at("ports[].wakes")
PLACE = attribute_at("ports[].place")
FUSE = attribute_at("energy.pyro_fuse.fitted")
REACH = attribute_at("cutoff.methods[].reachable_when")
NOT_FITTED = Fact(State.NOT_FITTED, src=("AB-1/1",))
MAYBE = Fact(State.MAY_BE_FITTED, True, ("AB-1/1",))
LEFT, RIGHT = Place("left", "rear_quarter", "mid"), Place("right", "rear_quarter", "mid")


@pytest.mark.parametrize(
    ("attr", "facts", "values", "not_fitted", "assumed", "read"),
    [
        (WAIT, [stated(60), stated(600)], (600,), False, False, False),
        (WAIT, [stated(60), NOT_STATED], (60,), False, False, True),
        (WAIT, [NOT_STATED], (), False, False, True),
        (REFUSES, [stated(True), stated(True)], (True,), False, False, False),
        (REFUSES, [stated(True), stated(False)], (False,), False, False, False),
        (REFUSES, [stated(True), NOT_STATED], (False,), False, True, True),
        (BRAKES, [NOT_FITTED, NOT_FITTED], (), True, False, False),
        (BRAKES, [NOT_FITTED, stated(True)], (True,), False, False, False),
        (BRAKES, [NOT_FITTED, NOT_STATED], (True,), False, True, True),
        (BRAKES, [NOT_FITTED, MAYBE], (True,), False, False, True),
        (WHEELS, [stated("loose"), stated("walking_pace")], ("walking_pace", "loose"), False, False, False),
        (WHEELS, [stated("loose"), NOT_STATED], ("never",), False, True, True),
        (WAKES, [stated(("fans",)), stated(("lights", "fans"))], (("fans", "lights"),), False, False, False),
        (PLACE, [stated(RIGHT), stated(LEFT), stated(LEFT)], (LEFT, RIGHT), False, False, False),
        (FUSE, [NOT_FITTED, stated(True)], (True,), True, False, False),
        (FUSE, [NOT_STATED], (), False, False, True),
        # What one vehicle lets a crew reach is no promise for another.
        (REACH, [stated(("roof",)), stated(("wheels",))], (("wheels",), ("roof",)), False, False, False),
    ],
)
def test_examples(
    attr: Attr, facts: list[Fact], values: tuple[Any, ...], not_fitted: bool, assumed: bool, read: bool
) -> None:
    found = protective(attr, facts)
    assert (found.values, found.not_fitted, found.assumed) == (values, not_fitted, assumed)
    assert found.readings == (attr.readings if read else ())


def test_the_pyro_fuse_not_stated_is_read_two_ways() -> None:
    assert {(reading.use, reading.as_) for reading in protective(FUSE, [NOT_STATED]).readings} == {
        ("plug", "present"),
        ("high_voltage", "absent"),
    }


def test_no_facts_have_no_reading() -> None:
    with pytest.raises(ValueError, match="no facts of wait"):
        protective(WAIT, [])


def test_a_line_is_read_by_its_state() -> None:
    record = record_from_document(sample())
    for line in lines(record):
        assert readings(line) == (line.attr.readings if line.fact.state in DOUBTFUL else ())
    assert any(readings(line) for line in lines(record))
