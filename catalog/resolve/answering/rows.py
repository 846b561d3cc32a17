"""The possible vehicles as rows: those that look alike are one row, with what a crew does differently on them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from catalog.resolve.answering.candidates import Bar, Candidate
from catalog.resolve.answering.group_views import GroupView, Member
from catalog.resolve.chance import Boxes

ALIKE = "Look alike, but differ in"
SAME = "Look alike; a crew acts the same on them"
# A look-alike less likely than this is counted in its row, and named once all are asked for.
NAMED = 0.025


@dataclass(frozen=True, slots=True)
class Vehicle:
    """One vehicle of a row. rank: its key, from 1 down the page. differs: what the headline's fact is on it.

    why, bars: what counted, empty where not asked for. frequency: of it alone, empty where it is the row's only one.
    doubts: what was taken back on its record, as in `Candidate`.
    """

    rank: int
    code: str
    title: str
    subtitle: str
    frequency: str
    differs: str
    why: str
    bars: tuple[Bar, ...]
    doubts: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """Vehicles that look alike, on the page's one scale. headline: the fact a crew acts on that differs among them,
    "" where there is one vehicle. less: how many less likely ones the row counts without naming them.
    sights: what tells the first two apart.
    """

    vehicles: tuple[Vehicle, ...]
    word: str
    frequency: str
    boxes: Boxes
    headline: str
    more: str
    less: str
    sights: tuple[str, ...]
    advice: str

    @property
    def title(self) -> str:
        return " or ".join(vehicle.title for vehicle in self.vehicles)


def row(group: GroupView, first: int, drawn: Boxes, known: Mapping[str, Candidate], *, every: bool) -> Row:
    """One group as a row. first: rank of its first vehicle. known: what else is known, by code."""
    pairs = [(place, member) for place, action in enumerate(group.actions) for member in action.members]
    named = [pair for at, pair in enumerate(pairs) if every or at == 0 or pair[1].chance.probability >= NAMED]
    left = len(pairs) - len(named)
    # The headline is about those that are named; what they do not differ in would say nothing.
    shown = {place for place, _ in named}
    differs = next((d for d in group.differs if len({d.values[place] for place in shown}) > 1), None)
    vehicles = tuple(
        _vehicle(
            first + at, member, known.get(member.code), differs.values[place] if differs else "", alone=len(named) == 1
        )
        for at, (place, member) in enumerate(named)
    )
    return Row(
        vehicles=vehicles,
        word=group.chance.word,
        frequency=group.chance.frequency,
        boxes=drawn,
        headline=_headline(len(vehicles), differs.label if differs else ""),
        more=f"and {group.differ_in - 1} more" if differs and group.differ_in > 1 else "",
        less=less_words(left) if left else "",
        sights=tuple(sight.ask for sight in group.sights) if differs else (),
        advice=group.advice if differs else "",
    )


def less_words(count: int) -> str:
    """How many more a row counts without naming them."""
    return f"and {count} less likely that look the same"


def _headline(named: int, label: str) -> str:
    if named < 2:
        return ""
    return f"{ALIKE} {label}" if label else SAME


def _vehicle(rank: int, member: Member, more: Candidate | None, differs: str, *, alone: bool) -> Vehicle:
    return Vehicle(
        rank,
        member.code,
        member.title,
        member.subtitle,
        "" if alone else member.chance.frequency,
        differs,
        more.why if more else "",
        more.bars if more else (),
        more.doubts if more else (),
    )
