"""Possible vehicles put together by their looks, as shown."""

from dataclasses import dataclass

from catalog.resolve.answering.chances import Chance


@dataclass(frozen=True, slots=True)
class DifferenceView:
    """A brief fact that look-alikes differ in. values: one per vehicle or action group, in their order."""

    key: str
    label: str
    weight: int
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SightView:
    """A safe sight that tells apart. values: what each of the two shows. bits: 0 nothing, 1 always."""

    attribute: str
    ask: str
    where: str
    values: tuple[str, str]
    bits: float


@dataclass(frozen=True, slots=True)
class Member:
    """A record of a group."""

    code: str
    title: str
    subtitle: str
    chance: Chance


@dataclass(frozen=True, slots=True)
class ActionView:
    """Records on which a crew acts the same: every brief fact is the same, silence included."""

    members: tuple[Member, ...]
    chance: Chance


@dataclass(frozen=True, slots=True)
class GroupView:
    """Records that look alike, merged. headline: what they differ in for a crew, "" where in nothing.

    differs: the heaviest of the differences; differ_in: how many there are.
    """

    actions: tuple[ActionView, ...]
    chance: Chance
    headline: str
    differs: tuple[DifferenceView, ...]
    differ_in: int
    sights: tuple[SightView, ...]
    advice: str


@dataclass(frozen=True, slots=True)
class GroupsView:
    """groups: by looks; acting: the same records by action alone. groups + rest + unlisted add up to 1."""

    groups: tuple[GroupView, ...]
    acting: tuple[ActionView, ...]
    rest: float
