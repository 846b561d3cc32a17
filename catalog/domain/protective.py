"""The most protective reading of what is stated, for one fact or for several vehicles at once.

Silence is read as each attribute declares: a hazard not stated is taken as present, an aid as
absent. What may be fitted, and what guides dispute, is planned the same way. Where no value
protects better than another (places), all are listed.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from catalog.domain.facts import Fact, State, Value
from catalog.domain.places import END, LANDMARK, LEVEL, SIDE, Place
from catalog.domain.record import Line
from catalog.domain.spec.nodes import Attr, Order, Reading, Terms

# States in which an attribute's readings apply.
DOUBTFUL = (State.NOT_STATED, State.MAY_BE_FITTED, State.DISPUTED)


@dataclass(frozen=True, slots=True)
class Protective:
    """What to plan by.

    values: the most protective value; several where none protects better; none where nothing is
    stated. not_fitted: somebody says so and nothing outweighs it. assumed: the value is the
    reading of a silence, not stated. readings: how the doubtful ones among the facts are read.
    silent: how many of the `members` facts state nothing.
    """

    values: tuple[Value, ...]
    not_fitted: bool
    assumed: bool
    readings: tuple[Reading, ...]
    members: int
    silent: int


def readings(line: Line) -> tuple[Reading, ...]:
    """How one line of a record is read; empty where it is plainly stated."""
    return line.attr.readings if line.fact.state in DOUBTFUL else ()


def protective(attr: Attr, facts: Sequence[Fact]) -> Protective:
    """The most protective reading of one attribute over several records, in any order.

    Raises ValueError when there are no facts.
    """
    if not facts:
        raise ValueError(f"no facts of {attr.key} to read")
    claims = [claim for fact in facts for claim in fact.claims()]
    values = _sorted(attr, (claim.value for claim in claims if claim.value is not None))
    silent = sum(fact.state is State.NOT_STATED for fact in facts)
    denied = any(claim.state is State.NOT_FITTED for claim in claims)
    best = _best(attr, values, silent)
    return Protective(
        values=best,
        not_fitted=denied and not (attr.order is Order.ONE and best),
        assumed=bool(best) and not set(best) & set(values) and attr.order is Order.ONE,
        readings=attr.readings if any(fact.state in DOUBTFUL for fact in facts) else (),
        members=len(facts),
        silent=silent,
    )


def _best(attr: Attr, values: tuple[Value, ...], silent: int) -> tuple[Value, ...]:
    match attr.order:
        case Order.ONE if attr.best is not None and (silent or attr.best in values):
            return (attr.best,)
        case Order.MOST if values:
            return (values[-1],)
        case Order.LEAST if values:
            return (values[0],)
        case Order.UNION if values:
            together = {word for value in values if isinstance(value, tuple) for word in value}
            return (_in_order(attr, together),)
    return values


def _sorted(attr: Attr, values: Iterable[Value]) -> tuple[Value, ...]:
    """Distinct values in an order that does not depend on who said them first."""
    distinct = {_in_order(attr, value) if isinstance(value, tuple) else value for value in values}
    return tuple(sorted(distinct, key=lambda value: _rank(attr, value)))


def _rank(attr: Attr, value: Value) -> tuple[object, ...]:
    if isinstance(value, Place):
        landmark = -1 if value.landmark is None else LANDMARK.keys.index(value.landmark)
        zone = (END.keys.index(value.end), SIDE.keys.index(value.side), LEVEL.keys.index(value.level))
        return (*zone, landmark, value.at or ())
    if isinstance(attr.kind, Terms):
        words = value if isinstance(value, tuple) else (str(value),)
        return tuple(attr.kind.vocabulary.keys.index(word) for word in words)
    return (value,)


def _in_order(attr: Attr, words: Iterable[str]) -> tuple[str, ...]:
    known = attr.kind.vocabulary.keys if isinstance(attr.kind, Terms) else ()
    return tuple(sorted(words, key=lambda word: known.index(word) if word in known else len(known)))
