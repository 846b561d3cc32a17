"""A fact and its five states.

Stored form (the only spelling of each state):
  not stated      the key is absent
  stated          {"value": ..., "src": [...]}
  not fitted      {"fitted": false, "src": [...]}       only where the attribute can be fitted
  may be fitted   {"value": ..., "fit": "some", "depends"?: "...", "src": [...]}
  disputed        {"disputed": [side, side, ...]}       two or more of the three above
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from catalog.domain.places import Place

Value = str | int | bool | Place | tuple[str, ...]


class State(StrEnum):
    """How a fact stands. Values are what the API writes."""

    STATED = "stated"
    NOT_FITTED = "not_fitted"
    MAY_BE_FITTED = "may_be_fitted"
    DISPUTED = "disputed"
    NOT_STATED = "not_stated"

    @property
    def label(self) -> str:
        return self.value.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Fact:
    """One claim. sides is filled only when disputed; src are source references."""

    state: State
    value: Value | None = None
    src: tuple[str, ...] = ()
    depends: str | None = None
    sides: tuple["Fact", ...] = ()

    def claims(self) -> tuple["Fact", ...]:
        """The undisputed claims this fact consists of: itself, or each side."""
        return self.sides if self.state is State.DISPUTED else (self,)

    def values(self) -> tuple[Value, ...]:
        """Every value any side states (fitted or maybe fitted)."""
        return tuple(c.value for c in self.claims() if c.value is not None)

    def sources(self) -> tuple[str, ...]:
        """Every source reference, in order, without repeats."""
        return tuple(dict.fromkeys(ref for claim in self.claims() for ref in claim.src))


NOT_STATED = Fact(State.NOT_STATED)


def stated(value: Value, *src: str) -> Fact:
    return Fact(State.STATED, value, tuple(src))


def fact_to_document(fact: Fact) -> dict[str, object]:
    """The stored form. Raises ValueError for "not stated", which is stored by absence."""
    match fact.state:
        case State.STATED:
            return {"value": value_to_document(fact.value), "src": list(fact.src)}
        case State.NOT_FITTED:
            return {"fitted": False, "src": list(fact.src)}
        case State.MAY_BE_FITTED:
            made: dict[str, object] = {
                "value": value_to_document(fact.value),
                "fit": "some",
                "src": list(fact.src),
            }
            if fact.depends is not None:
                made["depends"] = fact.depends
            return made
        case State.DISPUTED:
            return {"disputed": [fact_to_document(side) for side in fact.sides]}
        case State.NOT_STATED:
            raise ValueError("not stated is stored by absence")


def value_to_document(value: Value | None) -> object:
    """A value as JSON holds it: a place becomes an object, a set a list."""
    if isinstance(value, Place):
        made: dict[str, object] = {"side": value.side, "end": value.end, "level": value.level}
        if value.landmark is not None:
            made["landmark"] = value.landmark
        if value.at is not None:
            made["at"] = list(value.at)
        return made
    return list(value) if isinstance(value, tuple) else value


def flatten(facts: Mapping[str, Fact]) -> Iterator[tuple[str, Fact]]:
    """(path, claim) of every undisputed claim."""
    for path, fact in facts.items():
        for claim in fact.claims():
            yield path, claim
