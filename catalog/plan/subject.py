"""What the rules know of the vehicle: one record, read protectively, or no record at all.

Of a converted or modified vehicle the body's record keeps its word on structure and access only;
what it says about ports, motion, energy and cutting high voltage off is withheld.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

from catalog.domain.facts import Fact, State, Value
from catalog.domain.protective import protective
from catalog.domain.record import Record, attribute_at
from catalog.plan.scene import Said, Scene

# Paths are few and read again for every step: what they name is looked up once.
attribute = lru_cache(maxsize=8192)(attribute_at)
_WITHHELD = ("ports", "motion", "cutoff", "energy")


@dataclass(frozen=True, slots=True)
class Subject:
    """record: None for any vehicle. converted: its power facts are withheld."""

    record: Record | None = None
    converted: bool = False

    @property
    def propulsion(self) -> str | None:
        """None where nothing is known, or it may not hold any more."""
        return None if self.record is None or self.converted else self.record.identity.propulsion

    @property
    def category(self) -> str | None:
        return None if self.record is None else self.record.identity.category

    def fact(self, path: str) -> Fact:
        """ "Not stated" for any vehicle. Raises KeyError for a path outside the specification."""
        attribute(path)
        return Record.fact(self.record, path) if self.record is not None else Fact(State.NOT_STATED)

    def items(self, path: str) -> tuple[str, ...]:
        """The paths of a list's items: "ports[a]"."""
        ids = () if self.record is None else self.record.items.get(path, ())
        return tuple(f"{path}[{item}]" for item in ids)

    def plainly(self, path: str) -> Value | None:
        """The value where it is plainly stated, otherwise None."""
        fact = self.fact(path)
        return fact.value if fact.state is State.STATED else None

    def hazard(self, path: str) -> Said:
        """Equipment that is a hazard: no only where a guide says so and none disagrees. Unknown where withheld."""
        if self.record is None or (self.converted and not _kept(path)):
            return Said.UNKNOWN
        found = protective(attribute(path), (self.fact(path),))
        return Said.of(bool(found.values) or not found.not_fitted)

    def said(self, path: str) -> tuple[Value, ...]:
        """Every value any guide states."""
        return self.fact(path).values()


def subject_of(record: Record | None, scene: Scene) -> Subject:
    """The vehicle as it may be relied on in a scene."""
    if record is None or scene.said("converted") is not Said.YES:
        return Subject(record)
    facts = {path: fact for path, fact in record.facts.items() if _kept(path)}
    items = {path: ids for path, ids in record.items.items() if _kept(path)}
    complete = {path: fact for path, fact in record.complete.items() if _kept(path)}
    return Subject(replace(record, facts=facts, items=items, complete=complete), converted=True)


def _kept(path: str) -> bool:
    """Whether a record keeps its word on a path when the vehicle is converted."""
    return path.split(".")[0].split("[")[0] not in _WITHHELD
