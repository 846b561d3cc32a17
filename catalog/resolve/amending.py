"""What a person says of a reading: cues struck out, put right in their place, or said outright. Pure.

A cue is named by what it says (its key), never by its number, so that what was struck out or put right
stays so while the rest of the text goes on changing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.domain.vin import vehicle_part
from catalog.resolve.cue import Cue, Reading, Span

READ, CORRECTED, GIVEN = ORIGINS = ("read", "corrected", "given")

# attribute, values, denied, vehicle: `Cue.key`, of a VIN the part that is sent out.
Key = tuple[str, tuple[str, ...], bool, str]


@dataclass(frozen=True, slots=True)
class Given:
    """A cue somebody said outright. cue: without spans. instead_of: the key of the cue read that it puts right."""

    cue: Cue
    instead_of: Key | None = None


@dataclass(frozen=True, slots=True)
class Amendments:
    """struck: keys of cues to leave out. cues: put right or added; of several with one key the last counts."""

    struck: tuple[Key, ...] = ()
    cues: tuple[Given, ...] = ()


UNAMENDED = Amendments()


@dataclass(frozen=True, slots=True)
class Taken:
    """A cue that counts. origin: one of `ORIGINS`. instead_of: the cue as it was read, where it was put right."""

    cue: Cue
    origin: str = READ
    instead_of: Cue | None = None


@dataclass(frozen=True, slots=True)
class Amended:
    """reading: with the cues that count. taken: the same cues with where they come from.

    struck: what was read and is left out. idle: how many amendments are about nothing that is read here.
    """

    reading: Reading
    taken: tuple[Taken, ...]
    struck: tuple[Cue, ...] = ()
    idle: int = 0


def sent_out(cue: Cue) -> Cue:
    """The cue as it may be sent out: of a VIN only the vehicle part."""
    if cue.attribute != "vin":
        return cue
    parts = tuple(vehicle_part(value) for value in cue.values)
    return replace(cue, values=parts, heard=" or ".join(parts))


def key_of(cue: Cue) -> Key:
    """The key by which whoever was sent the cue names it."""
    return sent_out(cue).key


def amend(reading: Reading, amendments: Amendments) -> Amended:
    """Apply them. A correction of something that is not read any more changes nothing."""
    read = {key_of(cue): cue for cue in reading.cues}
    struck = {key: read[key] for key in amendments.struck if key in read}
    idle = len(set(amendments.struck) - read.keys())
    taken = {key: Taken(cue) for key, cue in read.items() if key not in struck}
    for given in {one.instead_of or one.cue.key: one for one in amendments.cues}.values():
        if given.instead_of is None:
            _put(taken, Taken(_like(given.cue, read.get(given.cue.key)), GIVEN))
        elif given.instead_of in read:
            taken.pop(given.instead_of, None)
            struck.pop(given.instead_of, None)
            before = read[given.instead_of]
            _put(taken, Taken(_like(given.cue, before), CORRECTED, before))
        else:
            idle += 1
    ordered = tuple(sorted(taken.values(), key=_place))
    return Amended(replace(reading, cues=tuple(one.cue for one in ordered)), ordered, tuple(struck.values()), idle)


def _like(cue: Cue, before: Cue | None) -> Cue:
    """The cue in the place of one that was read: its words, and the viewpoint it was said from."""
    if before is None:
        return cue
    return replace(cue, spans=before.spans, heard=before.heard, viewpoint=before.viewpoint)


def _put(taken: dict[Key, Taken], new: Taken) -> None:
    """Add a cue; where the same is there already it takes its place and its words too."""
    key = new.cue.key
    there = taken.pop(key, None)
    if there is not None:
        new = replace(new, cue=replace(new.cue, spans=_joined(there.cue.spans, new.cue.spans)))
    taken[key] = new


def _joined(one: Sequence[Span], other: Sequence[Span]) -> tuple[Span, ...]:
    return tuple(sorted({*one, *other}, key=lambda span: (span.start, span.end)))


def _place(taken: Taken) -> tuple[int, Key]:
    """In the order of the text; what was never in it comes last."""
    spans = taken.cue.spans
    return (spans[0].start if spans else 1 << 30, taken.cue.key)
