"""What the services return of facts and look-alikes: plain, frozen, without HTTP or terminal words."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from catalog.resolve.chance import said
from catalog.resolve.fact_chances import ValueChance
from catalog.services.views import Chance, EditionView

if TYPE_CHECKING:
    from catalog.services.doubts import DoubtView


def chance_of(probability: float) -> Chance:
    """A probability as it may be shown."""
    return Chance(probability, *said(probability))


class ValueView(ValueChance):
    """One value of a fact. Its chance is put in words where it is shown."""

    __slots__ = ()

    @property
    def chance(self) -> Chance:
        """Share of the vehicles whose record states it."""
        return chance_of(self.probability)


@dataclass(frozen=True, slots=True)
class SharedFact:
    """A brief fact over all possible vehicles. verdict: value of `Verdict`; weight: 3 may kill, 1 costs time.

    words: the likeliest stated value. said: the whole in one breath, always with what counts against
    it. lower_bound: least probability of that value; agreement: its share among those that state any.
    several: a vehicle may have several of the values, so they do not add up, and there may be more.
    reading: what to assume where nothing is stated. doubts: taken back of it on a possible vehicle's record.
    """

    key: str
    label: str
    weight: int
    verdict: str
    verdict_label: str
    words: str
    said: str
    values: tuple[ValueView, ...]
    lower_bound: Chance
    agreement: float
    not_stated: Chance
    unlisted: Chance
    several: bool
    reading: str
    doubts: "tuple[DoubtView, ...]" = ()


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


@dataclass(frozen=True, slots=True)
class Lookalikes:
    """What `find_lookalikes` returns. observer: caller or crew. message: said when there are none."""

    edition: EditionView
    code: str
    title: str
    subtitle: str
    observer: str
    lookalikes: tuple[LookalikeView, ...]
    message: str
