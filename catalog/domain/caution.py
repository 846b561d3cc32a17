"""Whether a change leaves a crew less or more cautious, and whether it needs a second person.

Derived from the specification: what a silence is read as (a hazard as present, an aid as absent), and which of
several values protects best. A crew is less cautious where a hazard is told smaller or not at all, and where an aid
is told that it did not count on before.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from catalog.domain.delta import FactChange, RecordDelta
from catalog.domain.facts import Fact, State
from catalog.domain.patching import COMPLETE, IDENTITY, ORDER, item_of
from catalog.domain.protective import DOUBTFUL
from catalog.domain.record import attribute_at, list_at, shape_of
from catalog.domain.spec import Attr, Node
from catalog.domain.spec.nodes import Order, Role, Text


class Caution(StrEnum):
    """What a change does to a crew's caution. Values are what the API writes."""

    LESS = "less cautious"
    MORE = "more cautious"
    NEUTRAL = "neutral"


@dataclass(frozen=True, slots=True)
class Weighed:
    """caution: what the change does. why: in a few words. critical: needs two persons."""

    caution: Caution
    why: str
    critical: bool


# Steps depend on what drives the vehicle and what kind it is; other identity fields only help to find it.
_CRITICAL_IDENTITY = frozenset({"identity.propulsion", "identity.category"})

_LOOK = Weighed(Caution.NEUTRAL, "the search reads it", critical=False)
_SAME = "what is planned stays the same"


def weigh(change: FactChange, delta: RecordDelta) -> Weighed:
    """One fact's change. delta: all that changes with it, which says whether its item comes or goes."""
    attr = attribute_at(change.path)
    if not attr.critical:
        return _LOOK if attr.role is Role.LOOK else Weighed(Caution.NEUTRAL, "says more", critical=False)
    comes, goes = _items(delta)
    item = item_of(change.path)
    if item in comes or item in goes:
        return _of_item(attr, comes=item in comes)
    caution, why = _caution(attr, change.old, change.new)
    return Weighed(caution, why, critical=True)


def weigh_plain(path: str, old: str, new: str) -> Weighed:
    """The change of an identity field, an order, a claim that a list is complete, or a note."""
    if path.startswith(IDENTITY):
        return Weighed(Caution.NEUTRAL, "the search reads it", critical=path in _CRITICAL_IDENTITY)
    if path.startswith(ORDER):
        node = list_at(shape_of(path.removeprefix(ORDER)))
        critical = node.ordered and _holds_critical(node.children)
        return Weighed(Caution.NEUTRAL, "the guide's order" if node.ordered else "order only", critical=critical)
    if path.startswith(COMPLETE):
        critical = _holds_critical(list_at(path.removeprefix(COMPLETE)).children)
        if old and new:
            return Weighed(Caution.NEUTRAL, "another source", critical=critical)
        if new:
            return Weighed(Caution.LESS, "what is not listed is told as not there", critical=critical)
        return Weighed(Caution.MORE, "what is not listed may be there", critical=critical)
    return Weighed(Caution.NEUTRAL, "says more", critical=False)


_NEW = "nothing stood before"


def first(path: str, *, fact: bool) -> Weighed:
    """A field of a record that was not there before: until now crews went by the steps for any vehicle."""
    critical = attribute_at(path).critical if fact else weigh_plain(path, "", "").critical
    return Weighed(Caution.NEUTRAL, _NEW, critical=critical)


def _of_item(attr: Attr, *, comes: bool) -> Weighed:
    hazard = attr.role is Role.HAZARD
    caution = Caution.MORE if hazard is comes else Caution.LESS
    if comes:
        return Weighed(caution, "one more to heed" if hazard else "one more to count on", critical=True)
    return Weighed(caution, "one fewer to heed" if hazard else "one fewer to count on", critical=True)


def _caution(attr: Attr, old: Fact, new: Fact) -> tuple[Caution, str]:
    before, after = _level(attr, old), _level(attr, new)
    if before != after:
        return (Caution.MORE if after > before else Caution.LESS), _reason(attr, after > before, old, new)
    if old.value == new.value and old.state is new.state and set(old.values()) == set(new.values()):
        return Caution.NEUTRAL, "another source"
    return _by_value(attr, old, new)


def _level(attr: Attr, fact: Fact) -> int:
    """Higher protects more."""
    if attr.role is Role.AID:
        # Read as absent unless plainly stated, and an aid whose stated value is the protective one is none.
        relied = fact.state is State.STATED and not (attr.order is Order.ONE and fact.value == attr.best)
        return 0 if relied else 1
    if attr.order is Order.ONE and attr.best is not None:
        return 1 if fact.state in DOUBTFUL or fact.value == attr.best else 0
    return {State.NOT_FITTED: 0, State.NOT_STATED: 2}.get(fact.state, 1)


def _reason(attr: Attr, more: bool, old: Fact, new: Fact) -> str:
    if attr.role is Role.AID:
        return "not counted on any more" if more else "counted on from now on"
    if new.state is State.NOT_STATED:
        return "read as present"
    if old.state is State.NOT_STATED:
        return "known from now on, not only assumed"
    return "planned as present" if more else "not planned for any more"


def _by_value(attr: Attr, old: Fact, new: Fact) -> tuple[Caution, str]:
    before, after = old.values(), new.values()
    if not before or not after or isinstance(attr.kind, Text):
        return Caution.NEUTRAL, "worded otherwise" if before and after else _SAME
    match attr.order:
        case Order.MOST | Order.LEAST:
            return _by_number(attr.order is Order.MOST, _numbers(before), _numbers(after))
        case Order.UNION:
            return _by_set(_words(before), _words(after), Caution.NEUTRAL)
        case Order.ONE:
            return Caution.NEUTRAL, _SAME
    # Places and the like: no value protects better, so all are listed. A hazard's old place is shown no more.
    lost = Caution.LESS if attr.role is Role.HAZARD else Caution.NEUTRAL
    return _by_set(set(map(str, before)), set(map(str, after)), lost)


def _by_number(most: bool, before: Sequence[int], after: Sequence[int]) -> tuple[Caution, str]:
    old, new = (max(before), max(after)) if most else (min(before), min(after))
    if old == new:
        return Caution.NEUTRAL, _SAME
    return (
        Caution.MORE if (new > old) is most else Caution.LESS
    ), "longer or more" if new > old else "shorter or fewer"


def _by_set(before: set[str], after: set[str], otherwise: Caution) -> tuple[Caution, str]:
    if before == after:
        return Caution.NEUTRAL, _SAME
    if before < after:
        return Caution.MORE, "all are shown"
    if after < before:
        return Caution.LESS, "fewer are shown"
    return otherwise, "the old one is shown no more"


def _numbers(values: Sequence[object]) -> list[int]:
    return [value for value in values if isinstance(value, int)]


def _words(values: Sequence[object]) -> set[str]:
    return {word for value in values for word in (value if isinstance(value, tuple) else (str(value),))}


def _items(delta: RecordDelta) -> tuple[set[str], set[str]]:
    """Items that come, and items that go, as "ports[a]"."""
    comes: set[str] = set()
    goes: set[str] = set()
    for change in delta.plain:
        if change.path.startswith(ORDER):
            path = change.path.removeprefix(ORDER)
            old, new = _ids(change.old), _ids(change.new)
            comes |= {f"{path}[{one}]" for one in new - old}
            goes |= {f"{path}[{one}]" for one in old - new}
    return comes, goes


def _ids(text: str) -> set[str]:
    return set(text.split(", ")) if text else set()


def _holds_critical(nodes: tuple[Node, ...]) -> bool:
    return any(node.critical if isinstance(node, Attr) else _holds_critical(node.children) for node in nodes)
