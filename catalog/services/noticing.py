"""Which facts a brief is made from: a record that notes what is read of it.

What was never read cannot have decided what a brief says, so a newer edition concerns a brief only where it
changes something noted here.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from catalog.domain.delta import RecordDelta
from catalog.domain.record import Record, shape_of

_V = TypeVar("_V")


@dataclass(frozen=True, slots=True)
class Noticed:
    """shapes: paths without item ids, "ports[].place"; a list that was looked through as "ports[]"."""

    shapes: set[str] = field(default_factory=set)

    def watch(self, record: Record) -> Record:
        """The same record; what is read of it is noted here."""
        return replace(
            record,
            facts=_Noting(record.facts, self.shapes),
            items=_Noting(record.items, self.shapes, "[]"),
            complete=_Noting(record.complete, self.shapes, "[]"),
        )


class _Noting(Mapping[str, _V]):
    """Looking through all of it counts as reading each; so does asking for what is not there."""

    def __init__(self, held: Mapping[str, _V], shapes: set[str], mark: str = "") -> None:
        self._held, self._shapes, self._mark = held, shapes, mark

    def __getitem__(self, path: str) -> _V:
        self._shapes.add(shape_of(path) + self._mark)
        return self._held[path]

    def __iter__(self) -> Iterator[str]:
        self._shapes.update(shape_of(path) + self._mark for path in self._held)
        return iter(self._held)

    def __len__(self) -> int:
        return len(self._held)


def concerned(delta: RecordDelta, old: Record, new: Record, shapes: Iterable[str]) -> tuple[str, ...]:
    """Paths of a delta that something made from `shapes` of the old record depends on, in the delta's order."""
    known = frozenset(shapes)
    facts = [change.path for change in delta.facts if _reads(change.path, old, new, known)]
    return (*facts, *(change.path for change in delta.plain if _reads_plain(change.path, known)))


def _reads(path: str, old: Record, new: Record, known: frozenset[str]) -> bool:
    if shape_of(path) in known:
        return True
    # An item that came or went counts by its list.
    listed, opened, rest = path.partition("[")
    item = rest.partition("]")[0]
    both = item in old.items.get(listed, ()) and item in new.items.get(listed, ())
    return bool(opened) and not both and f"{listed}[]" in known


def _reads_plain(path: str, known: frozenset[str]) -> bool:
    """Who the vehicle is always counts; notes are not said in a brief."""
    what, _, name = path.partition(".")
    return what == "identity" or (what in ("order", "complete") and f"{name}[]" in known)
