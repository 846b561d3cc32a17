"""The difference between two revisions of a record, fact by fact.

A change is (path, old, new): added, changed or removed follow from which side is missing.
Deltas invert by swapping sides; applying one to its old record gives the new one's facts.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields

from catalog.domain.facts import NOT_STATED, Fact
from catalog.domain.record import Identity, Note, Record


@dataclass(frozen=True, slots=True)
class FactChange:
    """One fact before and after; NOT_STATED on the side where nobody says anything."""

    path: str
    old: Fact
    new: Fact

    def inverted(self) -> "FactChange":
        return FactChange(self.path, self.new, self.old)


@dataclass(frozen=True, slots=True)
class PlainChange:
    """An identity field, list order or note before and after, as text ("" when missing)."""

    path: str
    old: str
    new: str

    def inverted(self) -> "PlainChange":
        return PlainChange(self.path, self.new, self.old)


@dataclass(frozen=True, slots=True)
class RecordDelta:
    """Everything that differs between two revisions, in document order."""

    facts: tuple[FactChange, ...] = ()
    plain: tuple[PlainChange, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.facts or self.plain)

    def inverted(self) -> "RecordDelta":
        return RecordDelta(
            tuple(change.inverted() for change in self.facts),
            tuple(change.inverted() for change in self.plain),
        )


def difference(old: Record | None, new: Record | None) -> RecordDelta:
    """The delta from old to new; None stands for "no record"."""
    before = old.facts if old else {}
    after = new.facts if new else {}
    return RecordDelta(tuple(_facts(before, after)), tuple(_plain(old, new)))


def apply(facts: Mapping[str, Fact], delta: RecordDelta) -> dict[str, Fact]:
    """The facts after a delta. Raises ValueError naming the path when `facts` is not its old side."""
    made = dict(facts)
    for change in delta.facts:
        if made.get(change.path, NOT_STATED) != change.old:
            raise ValueError(f"{change.path} is not what the change was made against")
        if change.new is NOT_STATED or change.new == NOT_STATED:
            made.pop(change.path, None)
        else:
            made[change.path] = change.new
    return made


def _facts(before: Mapping[str, Fact], after: Mapping[str, Fact]) -> Iterator[FactChange]:
    for path in dict.fromkeys([*before, *after]):
        old, new = before.get(path, NOT_STATED), after.get(path, NOT_STATED)
        if old != new:
            yield FactChange(path, old, new)


def _plain(old: Record | None, new: Record | None) -> Iterator[PlainChange]:
    for name in (field.name for field in fields(Identity)):
        yield from _pair(
            f"identity.{name}",
            _text(getattr(old.identity, name)) if old else "",
            _text(getattr(new.identity, name)) if new else "",
        )
    for label, read in (("order", _orders), ("complete", _complete), ("notes", _notes)):
        before = read(old) if old else {}
        after = read(new) if new else {}
        for key in dict.fromkeys([*before, *after]):
            yield from _pair(f"{label}.{key}", before.get(key, ""), after.get(key, ""))


def _pair(path: str, old: str, new: str) -> Iterator[PlainChange]:
    if old != new:
        yield PlainChange(path, old, new)


def _text(value: object) -> str:
    if value is None:
        return ""
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _orders(record: Record) -> dict[str, str]:
    return {path: ", ".join(ids) for path, ids in record.items.items()}


def _complete(record: Record) -> dict[str, str]:
    return {path: ", ".join(fact.sources()) for path, fact in record.complete.items()}


def _notes(record: Record) -> dict[str, str]:
    def line(note: Note) -> str:
        return f"{note.text} ({note.lang}; {', '.join(note.src)})"

    return {note.id: line(note) for note in record.notes}
