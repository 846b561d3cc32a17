"""What can be said of each brief fact while the vehicle is still uncertain.

P(fact = x) is the sum over all records that state x. Vehicles not in this catalogue, and records
that state nothing, count against every value: the sum is a lower bound. A fact is

  the same on all          one value's lower bound reaches .95
  what the possible        among the listed vehicles that state anything .95 say the same, and they
  vehicles agree on        are more than half; the shares of the silent and of the unlisted go with it
  not stated               at most .05 of the listed vehicles state anything
  different                otherwise

Where it is not the same on all, the most protective value is listed however unlikely it is, and
every other value (places above all) that has more than one chance in a hundred.
"""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.brief_facts import BriefFact
from catalog.resolve.fact_index import FactColumn, IndexedFacts, indexed_facts
from catalog.resolve.fact_words import NOT_STATED
from catalog.resolve.posterior import Posterior
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables

SAME, AGREE, LISTED = 0.95, 0.95, 0.01
_MOST_STATED = 0.5
# Decimals of a share that count: in what order a sum was added up must not decide which of two comes first.
_PLACES = 12


class Verdict(StrEnum):
    """Values are what the API writes."""

    SAME = "same_on_all"
    AGREE = "possible_vehicles_agree"
    DIFFERS = "differs"
    NOT_STATED = "not_stated"


class ValueChance(NamedTuple):
    """probability: share of the vehicles whose record states it. protective: listed however unlikely.

    assumed: nobody states it; it is how a silence is read.
    """

    words: str
    probability: float
    protective: bool = False
    assumed: bool = False


@dataclass(frozen=True, eq=False)
class _Weighed:
    """All facts of one answer. shares: one number per value of every fact; silent values count as well."""

    indexed: IndexedFacts
    shares: Vector

    @cached_property
    def listed(self) -> tuple[tuple[ValueChance, ...], list[int]]:
        """The values to show of all facts, those of each likeliest first, and where each fact's begin."""
        told, columns = self.indexed.elements, self.indexed.columns
        shares = np.round(self.indexed.per_element(self.shares), _PLACES)
        numbers = np.flatnonzero((shares > LISTED) | told.protective)
        fact = told.fact[numbers]
        numbers = numbers[np.lexsort((-shares[numbers], fact))]
        ordered, within = shares[numbers], numbers - told.first[fact]
        words = [
            columns[place].element_words(number) for place, number in zip(fact.tolist(), within.tolist(), strict=True)
        ]
        made = list(map(ValueChance, words, ordered.tolist(), told.protective[numbers].tolist()))
        _by_words(made, np.append((ordered[1:] == ordered[:-1]) & (fact[1:] == fact[:-1]), False))
        return tuple(made), np.searchsorted(fact, np.arange(len(columns) + 1)).tolist()


@dataclass(frozen=True, eq=False)
class FactChance:
    """One fact. top: its likeliest stated value, None where none is.

    lower_bound: the least that the probability of that value can be. stated, not_stated: shares of the
    records that state something, and nothing; with `unlisted` they add up to 1.
    """

    column: FactColumn
    place: int
    weighed: _Weighed
    verdict: Verdict
    top: int | None
    lower_bound: float
    stated: float
    not_stated: float
    unlisted: float

    @property
    def fact(self) -> BriefFact:
        return self.column.fact

    @property
    def shares(self) -> Vector:
        """One number per value of its column; they and `unlisted` add up to 1."""
        return self.weighed.shares[self.column.start : self.column.start + len(self.column.values)]

    @property
    def agreement(self) -> float:
        """Share of the likeliest value among the listed vehicles that state anything."""
        return self.lower_bound / self.stated if self.stated > 0 else 0.0

    @property
    def words(self) -> str:
        """The likeliest stated value, "not stated" where nobody states any."""
        return NOT_STATED if self.top is None else self.column.value_words(self.top)

    @cached_property
    def values(self) -> tuple[ValueChance, ...]:
        """The values to show, likeliest first: see the module's words.

        Of a fact of several items (ports, ways, words of a set) each item is a value of its own: a
        vehicle may have several, so these do not add up.
        """
        if self.verdict is Verdict.SAME:
            return (ValueChance(self.words, self.lower_bound),)
        made, starts = self.weighed.listed
        found = made[starts[self.place] : starts[self.place + 1]]
        assumed = self.weighed.indexed.assumed[self.place]
        return found if assumed is None else (*found, ValueChance(assumed, 0.0, protective=True, assumed=True))

    @property
    def reading(self) -> str:
        """What to assume of a vehicle that is silent or not listed."""
        return self.fact.reading


def fact_chances(result: Posterior, tables: Tables) -> tuple[FactChance, ...]:
    """Every brief fact, most urgent first; none for an empty catalogue. Words and values are made when asked for."""
    if tables.size == 0:
        return ()
    indexed = indexed_facts(tables)
    disputed, starts = indexed.elements.disputed, indexed.starts
    weighed = _Weighed(indexed, np.round(indexed.shares(result.records), _PLACES))
    said = weighed.shares.copy()
    said[indexed.silent] = 0.0
    bounds = np.maximum.reduceat(said, starts)
    stated = np.add.reduceat(said, starts)
    silent = np.add.reduceat(weighed.shares - said, starts)
    likeliest = np.flatnonzero(said == np.repeat(bounds, np.diff(starts, append=indexed.size)))
    tops = likeliest[np.searchsorted(likeliest, starts)]
    numbers = zip(tops.tolist(), bounds.tolist(), stated.tolist(), silent.tolist(), strict=True)
    made = []
    for place, (column, (top, bound, some, none)) in enumerate(zip(indexed.columns, numbers, strict=True)):
        verdict = _verdict(bound, some, none, top in disputed)
        value = top - column.start if some > 0 else None
        made.append(FactChance(column, place, weighed, verdict, value, bound, some, none, result.unlisted))
    return tuple(made)


def _verdict(bound: float, stated: float, silent: float, disputed: bool) -> Verdict:
    """bound, stated, silent: as in `FactChance`. disputed: whether guides disagree about the likeliest value; then
    nobody agrees."""
    if stated <= (1 - AGREE) * (stated + silent):
        return Verdict.NOT_STATED
    if not disputed and bound >= SAME:
        return Verdict.SAME
    if not disputed and bound / stated >= AGREE and stated > _MOST_STATED * (stated + silent):
        return Verdict.AGREE
    return Verdict.DIFFERS


def _by_words(made: list[ValueChance], alike: NDArray[np.bool_]) -> None:
    """Put those that are equally likely in the order of their words. alike: which are as likely as the next one."""
    for place in np.flatnonzero(alike & ~np.append(False, alike[:-1])).tolist():
        end = place + int(alike[place:].argmin()) + 1
        made[place:end] = sorted(made[place:end], key=lambda entry: entry.words)
