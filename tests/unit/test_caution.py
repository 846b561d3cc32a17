"""What a change does to a crew's caution, worked out by hand for each order of the specification."""

from typing import Any

import pytest

from catalog.domain.caution import Caution, weigh, weigh_plain
from catalog.domain.delta import FactChange, PlainChange, RecordDelta
from catalog.domain.facts import NOT_STATED, Fact, State, stated
from catalog.domain.places import Place
from catalog.domain.record import attribute_at
from catalog.domain.spec import TREE, Attr, ListOf, Node
from catalog.domain.spec.nodes import Equipment, Number, Order, Terms, Where, YesNo

LESS, MORE, NEUTRAL = Caution.LESS, Caution.MORE, Caution.NEUTRAL
NONE = Fact(State.NOT_FITTED, src=("A-1/1:1",))
FRONT, REAR = Place("left", "front_quarter", "mid"), Place("left", "rear_quarter", "mid")


def some(value: Any) -> Fact:
    return Fact(State.MAY_BE_FITTED, value, ("A-1/1:1",))


def disputed(*sides: Fact) -> Fact:
    return Fact(State.DISPUTED, sides=sides)


WAIT, CUTS, PLACE, LIVE = (f"cutoff.methods[b].{key}" for key in ("wait", "cuts", "place", "stays_live"))


@pytest.mark.parametrize(
    ("path", "old", "new", "expected"),
    [
        # A wait: a hazard whose longest value protects best.
        (WAIT, stated(180), stated(60), LESS),
        (WAIT, stated(60), stated(180), MORE),
        (WAIT, NOT_STATED, stated(60), LESS),
        (WAIT, stated(60), NOT_STATED, MORE),
        (WAIT, stated(60), disputed(stated(60), stated(120)), MORE),
        (WAIT, stated(60, "A-1/1:1"), stated(60, "A-1/2:1"), NEUTRAL),
        # Cuts: an aid; more protect better, and what is not stated was not counted on.
        (CUTS, stated(2), stated(1), LESS),
        (CUTS, NOT_STATED, stated(2), LESS),
        (CUTS, stated(2), NOT_STATED, MORE),
        (CUTS, NOT_STATED, some(2), NEUTRAL),
        # A place of an aid: nothing protects better; several are all shown.
        (PLACE, stated(FRONT), stated(REAR), NEUTRAL),
        (PLACE, stated(FRONT), disputed(stated(FRONT), stated(REAR)), MORE),
        (PLACE, stated(FRONT), NOT_STATED, MORE),
        # What stays live: a hazard; all of it counts.
        (LIVE, stated(("pack",)), stated(("pack", "dc_cables")), MORE),
        (LIVE, stated(("pack", "dc_cables")), stated(("pack",)), LESS),
    ],
)
def test_a_fact(path: str, old: Fact, new: Fact, expected: Caution) -> None:
    found = weigh(FactChange(path, old, new), RecordDelta())
    assert (found.caution, found.critical) == (expected, True)
    assert found.why


def paths(prefix: str, nodes: tuple[Node, ...]) -> list[str]:
    made: list[str] = []
    for node in nodes:
        path = f"{prefix}.{node.key}"
        if isinstance(node, Attr):
            made.append(path)
        else:
            made += paths(f"{path}[a]" if isinstance(node, ListOf) else path, node.children)
    return made


PATHS = [path for top in TREE for path in paths(f"{top.key}[a]" if isinstance(top, ListOf) else top.key, top.children)]
ALL = [attribute_at(path) for path in PATHS]


def values_of(attr: Attr) -> list[Any]:
    match attr.kind:
        case Terms(vocabulary, many):
            return [(key,) for key in vocabulary.keys] if many else list(vocabulary.keys)
        case Number(_, low, high):
            return [low, high]
        case YesNo():
            return [True, False]
        case Where():
            return [FRONT, REAR]
    return [True] if isinstance(attr.kind, Equipment) else ["text"]


def test_losing_a_fact_never_leaves_a_crew_less_cautious() -> None:
    """Doubting anything is at least as careful as before, whatever the attribute: silence is read protectively."""
    for path in PATHS:
        for old in (*(stated(value) for value in values_of(attribute_at(path))), NONE):
            found = weigh(FactChange(path, old, NOT_STATED), RecordDelta())
            assert found.caution is not LESS, (path, old)


def test_back_is_the_other_way_round() -> None:
    for old, new in ((stated(60), stated(180)), (stated(60), NOT_STATED)):
        there, back = weigh(FactChange(WAIT, old, new), RecordDelta()), weigh(FactChange(WAIT, new, old), RecordDelta())
        assert {there.caution, back.caution} == {LESS, MORE}


def test_an_item_that_comes_or_goes() -> None:
    comes = RecordDelta(plain=(PlainChange("order.cutoff.methods", "a", "a, b"),))
    goes = RecordDelta(plain=(PlainChange("order.cutoff.methods", "a, b", "a"),))
    assert weigh(FactChange(WAIT, NOT_STATED, stated(60)), comes).caution is MORE
    assert weigh(FactChange(WAIT, stated(60), NOT_STATED), goes).caution is LESS
    assert weigh(FactChange(PLACE, NOT_STATED, stated(FRONT)), comes).caution is LESS
    assert weigh(FactChange(PLACE, stated(FRONT), NOT_STATED), goes).caution is MORE


def test_plain_fields() -> None:
    assert weigh_plain("identity.propulsion", "hybrid", "battery").critical
    assert not weigh_plain("identity.model", "Kella", "Kello").critical
    assert weigh_plain("order.cutoff.methods", "a, b", "b, a").critical
    added, taken = weigh_plain("complete.ports", "", "A-1/1:1"), weigh_plain("complete.ports", "A-1/1:1", "")
    assert (added.caution, taken.caution) == (LESS, MORE)
    assert not weigh_plain("notes.a", "", "New.").critical


def test_every_order_is_met() -> None:
    """The table above stands for the specification: each order occurs among critical attributes."""
    assert {attr.order for attr in ALL if attr.critical} >= {Order.MOST, Order.UNION, Order.ONE, Order.LIST_ALL}


def test_one_best_value() -> None:
    """For each attribute with one best value: towards it is more cautious or the same, away from it the reverse."""
    tried = 0
    for path in PATHS:
        attr = attribute_at(path)
        others = [value for value in values_of(attr) if value != attr.best]
        if attr.order is not Order.ONE or attr.best is None or not attr.critical or not others:
            continue
        tried += 1
        best, other = stated(attr.best), stated(others[0])
        found = [
            weigh(FactChange(path, *pair), RecordDelta()).caution
            for pair in ((other, best), (best, other), (NOT_STATED, other), (other, NOT_STATED), (NOT_STATED, best))
        ]
        assert found == [MORE, LESS, LESS, MORE, NEUTRAL], path
    assert tried > 3
