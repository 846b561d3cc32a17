"""How much of a record is stated: what the steward's list shows beside each vehicle."""

from dataclasses import dataclass

from catalog.domain.facts import State
from catalog.domain.record import Record, lines


@dataclass(frozen=True, slots=True)
class Coverage:
    """Counts of a record's facts that bear on safety. disputed counts among the stated."""

    stated: int
    not_stated: int
    disputed: int


def coverage(record: Record) -> Coverage:
    """Count the record's hazards and aids."""
    states = [line.fact.state for line in lines(record) if line.attr.critical]
    missing = states.count(State.NOT_STATED)
    return Coverage(len(states) - missing, missing, states.count(State.DISPUTED))
