"""Conditions of the rule table: all, any, not, is; each yes, no or unknown.

    {"all": [...]}, {"any": [...]}, {"not": ...}, {"is": [name, value, ...]}

A name is a field of the scene or a derived fact. An unknown one makes "is" unknown, unless
"unknown" is among the values: then whoever wrote the rule has decided what to do not knowing.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from catalog.plan.scene import Said, both, either, opposite

Condition = Mapping[str, Any]
ValueOf = Callable[[str], Said]

ALWAYS: Condition = {"all": []}
_KINDS = ("all", "any", "not", "is")


def holds(condition: Condition, value_of: ValueOf) -> Said:
    """Whether a condition holds."""
    ((kind, inner),) = condition.items()
    match kind:
        case "all":
            return both(holds(part, value_of) for part in inner)
        case "any":
            return either(holds(part, value_of) for part in inner)
        case "not":
            return opposite(holds(inner, value_of))
    return _is(value_of(inner[0]), inner[1:])


def _is(value: Said, wanted: list[str]) -> Said:
    if value in wanted:
        return Said.YES
    return Said.UNKNOWN if value is Said.UNKNOWN else Said.NO


def names(condition: Condition) -> Iterator[str]:
    """Every field and derived fact a condition reads, as often as it does."""
    ((kind, inner),) = condition.items()
    match kind:
        case "all" | "any":
            for part in inner:
                yield from names(part)
        case "not":
            yield from names(inner)
        case _:
            yield inner[0]


def missing(condition: Condition, value_of: ValueOf, *, wanted: bool = True) -> Iterator[tuple[str, Said]]:
    """What is unknown and would have to be so for the condition to hold: (name, yes or no).

    wanted: whether the condition is to hold, or not to hold.
    """
    ((kind, inner),) = condition.items()
    if holds(condition, value_of) is not Said.UNKNOWN:
        return
    match kind:
        case "all" | "any":
            for part in inner:
                yield from missing(part, value_of, wanted=wanted)
        case "not":
            yield from missing(inner, value_of, wanted=not wanted)
        case _:
            yield inner[0], Said.of((Said.YES in inner[1:]) is wanted)


def faults(condition: object, known: frozenset[str]) -> Iterator[str]:
    """What is wrong with a condition somebody wrote, in words; nothing where it can be used."""
    if not isinstance(condition, Mapping) or len(condition) != 1:
        yield f"{condition!r} is not one of {', '.join(_KINDS)}"
        return
    ((kind, inner),) = condition.items()
    match kind:
        case "all" | "any" if isinstance(inner, list):
            for part in inner:
                yield from faults(part, known)
        case "not":
            yield from faults(inner, known)
        case "is" if isinstance(inner, list) and len(inner) > 1 and all(isinstance(word, str) for word in inner):
            if inner[0] not in known:
                yield f"{inner[0]} is neither a field of the scene nor a derived fact"
            strange = [word for word in inner[1:] if word not in set(Said)]
            if strange:
                yield f"{inner[0]} cannot be {', '.join(strange)}: yes, no or unknown"
        case _:
            yield f"{kind} is not one of {', '.join(_KINDS)}, or what follows it is not as it should be"
