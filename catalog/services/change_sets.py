"""What an update would change in a record, field by field: old, new, what it does to a crew's caution, its sources."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalog.domain.caution import Caution, Weighed, first, weigh, weigh_plain
from catalog.domain.delta import PlainChange, RecordDelta, difference
from catalog.domain.facts import Fact, State
from catalog.domain.patching import ORDER
from catalog.domain.record import Record

_CAUTION = {Caution.LESS: 0, Caution.MORE: 1, Caution.NEUTRAL: 2}


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field. old, new: the facts; of an identity field, order or note text."""

    path: str
    old: Fact | str
    new: Fact | str
    weighed: Weighed

    @property
    def rank(self) -> tuple[bool, int]:
        """Safety-critical first; of those what leaves a crew less cautious, then more, then neither."""
        return not self.weighed.critical, _CAUTION[self.weighed.caution]


@dataclass(frozen=True, slots=True)
class Tally:
    """How many fields change, and how. gained, lost: facts that were not stated before, or are not after.
    contradicted: stated before and after, and not alike."""

    changes: int
    critical: int
    less: int
    more: int
    gained: int
    lost: int
    contradicted: int


def field_changes(old: Record | None, new: Record | None) -> tuple[FieldChange, ...]:
    """From old to new, most pressing first, otherwise in document order. None: no record."""
    return tuple(sorted(_changes(old, new), key=lambda change: change.rank))


def tally_of(old: Record | None, new: Record | None) -> Tally:
    """The same counted. "Do not use" is one critical change that leaves crews more cautious."""
    if new is None:
        return Tally(1, 1, 0, 1, 0, len(old.facts) if old else 0, 0)
    return tally(tuple(_changes(old, new)))


def tally(changes: Sequence[FieldChange]) -> Tally:
    """Field changes counted."""
    facts = [one for one in changes if isinstance(one.new, Fact) and isinstance(one.old, Fact)]
    before = [isinstance(one.old, Fact) and one.old.state is State.NOT_STATED for one in facts]
    after = [isinstance(one.new, Fact) and one.new.state is State.NOT_STATED for one in facts]
    both = [one for one, was, is_ in zip(facts, before, after, strict=True) if not was and not is_]
    return Tally(
        changes=len(changes),
        critical=sum(one.weighed.critical for one in changes),
        less=sum(one.weighed.caution is Caution.LESS for one in changes),
        more=sum(one.weighed.caution is Caution.MORE for one in changes),
        gained=sum(before),
        lost=sum(after),
        contradicted=sum(not _alike(one.old, one.new) for one in both),
    )


def _alike(old: Fact | str, new: Fact | str) -> bool:
    """Whether only the sources differ."""
    if isinstance(old, str) or isinstance(new, str):
        return old == new
    return (old.state, old.values(), old.depends) == (new.state, new.values(), new.depends)


def _changes(old: Record | None, new: Record | None) -> Iterator[FieldChange]:
    delta = difference(old, new)
    for fact in delta.facts:
        weighed = first(fact.path, fact=True) if old is None else weigh(fact, delta)
        yield FieldChange(fact.path, fact.old, fact.new, weighed)
    for plain in delta.plain:
        if plain.path.startswith(ORDER) and _follows(plain, delta):
            continue
        weighed = first(plain.path, fact=False) if old is None else weigh_plain(plain.path, plain.old, plain.new)
        yield FieldChange(plain.path, plain.old, plain.new, weighed)


def _follows(plain: PlainChange, delta: RecordDelta) -> bool:
    """Whether the change of an order is nothing but items that come or go with their own facts."""
    path = plain.path.removeprefix(ORDER)
    old, new = plain.old.split(", "), plain.new.split(", ")
    changed = {one.path for one in delta.facts}
    kept = [one for one in old if one in new]
    if kept != [one for one in new if one in old]:
        return False
    moved = [one for one in {*old, *new} if one and (one in old) is not (one in new)]
    # An item that came without a fact of its own is seen by the order alone; so is one put between others.
    if any(not any(name.startswith(f"{path}[{one}]") for name in changed) for one in moved):
        return False
    return [one for one in [*kept, *(one for one in new if one not in kept)] if one] == [one for one in new if one]
