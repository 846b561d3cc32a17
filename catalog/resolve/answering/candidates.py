"""A possible vehicle, and why it is in the list."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from catalog.resolve.answering import notes
from catalog.resolve.answering.chances import Chance, chance_of
from catalog.resolve.explain import against_vin, bars, prior_decides, tells_apart, why
from catalog.resolve.field import Field
from catalog.resolve.mirrored import LIKELY as SIDES_LIKELY_SWAPPED
from catalog.resolve.mirrored import swaps_sides
from catalog.resolve.posterior import Posterior


@dataclass(frozen=True, slots=True)
class Bar:
    """One term of the explanation, in bits against the average vehicle of the field."""

    label: str
    bits: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A possible vehicle. why: one line. bars: prior, one per cue, interaction; they add up.

    doubts: that stand, as whoever knows of them puts them.
    """

    code: str
    title: str
    subtitle: str
    chance: Chance
    why: str
    bars: tuple[Bar, ...] = ()
    doubts: tuple[Any, ...] = ()


def shown(result: Posterior, limit: int | None) -> Sequence[int]:
    """Positions to list; none when nothing said can rank, so that nothing looks likely. limit: None for all."""
    if not tells_apart(result):
        return ()
    return [int(place) for place in result.order(limit)]


def candidate(place: int, result: Posterior, field: Field, *, in_bits: bool) -> Candidate:
    """One record as a possible vehicle. in_bits: with its bars."""
    meta = field.tables.meta
    drawn = bars(place, result, field) if in_bits else ()
    return Candidate(
        code=meta["codes"][place],
        title=meta["titles"][place],
        subtitle=meta["subtitles"][place],
        chance=chance_of(float(result.records[place])),
        why=why(place, result, field),
        bars=tuple(Bar(bar.label, bar.bits) for bar in drawn),
    )


def warnings(places: Sequence[int], field: Field, result: Posterior) -> tuple[str, ...]:
    """What to be told beside the list. places: as shown."""
    made = []
    if len(places) > 1 and prior_decides(places[0], places[1], result, field.tables):
        made.append(notes.PRIOR_DECIDES)
    if places and swaps_sides(result, field) > SIDES_LIKELY_SWAPPED:
        made.append(notes.SIDES_SWAPPED)
    if places and (unfit := against_vin(places[0], result, field)):
        made.append(notes.vin_contradicted(unfit))
    return tuple(made)
