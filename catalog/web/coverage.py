"""How much of a record is stated: what the steward's list shows beside each vehicle."""

from dataclasses import dataclass

from catalog.domain.facts import State
from catalog.domain.record import Record, lines
from catalog.services.house import House
from catalog.services.records import listed_record
from catalog.services.remembered import Remembered


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


def listed_coverage(house: House, code: str) -> Coverage:
    """The same of what a listed record says now; a revision is counted once. Raises NotFound."""
    revision = house.shelf.current().revision(code)[0]
    return _counted.of(revision, lambda: coverage(listed_record(house, code)))


_counted: Remembered[Coverage] = Remembered(20_000)
