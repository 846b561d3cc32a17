"""What the services return of facts and look-alikes: plain, frozen, without HTTP or terminal words."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from catalog.resolve.answering.alike import LookalikeView
from catalog.resolve.answering.chances import Chance, chance_of
from catalog.resolve.fact_chances import ValueChance
from catalog.services.views import EditionView

if TYPE_CHECKING:
    from catalog.services.doubts import DoubtView


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
class Lookalikes:
    """What `find_lookalikes` returns. observer: caller or crew. message: said when there are none."""

    edition: EditionView
    code: str
    title: str
    subtitle: str
    observer: str
    lookalikes: tuple[LookalikeView, ...]
    message: str
