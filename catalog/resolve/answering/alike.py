"""Vehicles that look like one, in words."""

from dataclasses import dataclass

from catalog.resolve.answering.group_views import DifferenceView, SightView
from catalog.resolve.answering.groups import ADVICE, differences_said, headline, sights_said
from catalog.resolve.field import Field
from catalog.resolve.lookalikes import Lookalike, lookalikes
from catalog.resolve.sights import Observer

NONE_FOUND = "No other record here looks so much like it. A vehicle that is not in this catalogue still may."


@dataclass(frozen=True, slots=True)
class LookalikeView:
    """A record that looks like another. bits: how far apart their looks are, 0 is the same."""

    code: str
    title: str
    subtitle: str
    bits: float
    headline: str
    differs: tuple[DifferenceView, ...]
    sights: tuple[SightView, ...]
    advice: str


def alike_views(position: int, field: Field, seen: Observer, limit: int) -> tuple[LookalikeView, ...]:
    """The vehicles that look like one, nearest first, at most `limit`; `NONE_FOUND` is said where there are none."""
    return tuple(_view(position, other, field, seen) for other in lookalikes(position, field, seen, limit=limit))


def _view(position: int, other: Lookalike, field: Field, seen: Observer) -> LookalikeView:
    meta = field.tables.meta
    titles = meta["titles"]
    return LookalikeView(
        code=meta["codes"][other.position],
        title=titles[other.position],
        subtitle=meta["subtitles"][other.position],
        bits=other.bits,
        headline=headline(other.differs, (titles[position], titles[other.position])),
        differs=differences_said(other.differs),
        sights=sights_said(other.telling),
        advice="" if other.telling else ADVICE[seen],
    )
