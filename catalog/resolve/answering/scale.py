"""The rows of a page on one scale of ten: possible vehicles, *not in this catalogue*, the others together."""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.resolve.answering.candidates import Candidate
from catalog.resolve.answering.chances import Chance, chance_of
from catalog.resolve.answering.group_views import GroupsView
from catalog.resolve.answering.rows import Row, row
from catalog.resolve.chance import Boxes, boxes

# Shown at first; all others are one key away.
FIRST = 3
UNLISTED = "Not in this catalogue"


@dataclass(frozen=True, slots=True)
class Share:
    """A row that names no vehicle: not in this catalogue, or the others together."""

    title: str
    word: str
    frequency: str
    boxes: Boxes


@dataclass(frozen=True, slots=True)
class Scale:
    """rows: none when nothing said can rank. others: None where no vehicle is left over."""

    rows: tuple[Row, ...]
    unlisted: Share
    others: Share | None


def scaled(
    groups: GroupsView | None, unlisted: Chance, size: int, known: Mapping[str, Candidate], every: bool
) -> Scale:
    """Vehicles left out of view count among the others, so the page adds up.

    groups: None when nothing said can rank. size: how many vehicles the catalogue has. known: what else is known of
    some, by code. every: all groups, and every vehicle of each by name.
    """
    found, rest = ((), 1 - unlisted.probability) if groups is None else (groups.groups, groups.rest)
    shown = found if every else found[:FIRST]
    shares = [group.chance.probability for group in shown]
    listed = sum(len(action.members) for group in shown for action in group.actions)
    others = rest + sum(group.chance.probability for group in found[len(shown) :])
    # That it is not in the catalogue is never rounded out of sight.
    drawn = boxes([*shares, unlisted.probability, max(0.0, others)], kept=len(shown))
    rows: list[Row] = []
    for place, group in enumerate(shown):
        first = 1 + sum(len(made.vehicles) for made in rows)
        rows.append(row(group, first, drawn[place], known, every=every))
    none = Share(UNLISTED, unlisted.word, unlisted.frequency, drawn[len(shown)])
    return Scale(tuple(rows), none, _others(size - listed, others, drawn[-1]) if rows else None)


def _others(count: int, probability: float, drawn: Boxes) -> Share | None:
    if count <= 0:
        return None
    title = "1 other vehicle" if count == 1 else f"{count} other vehicles together"
    chance = chance_of(probability)
    return Share(title, chance.word, chance.frequency, drawn)


def status(scale: Scale, message: str, ask: str) -> str:
    """What a screen reader is told when the rows change. ask: the question put, "" for none."""
    if not scale.rows:
        return message
    first = scale.rows[0]
    said = (
        f"First of the possible vehicles: {first.title}, {first.word}, {first.frequency}. "
        f"{scale.unlisted.title}: {scale.unlisted.frequency}."
    )
    return f"{said} Ask next: {ask}" if ask else said
