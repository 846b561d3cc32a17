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

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple

import numpy as np

from catalog.domain.spec.nodes import Order
from catalog.domain.wording import value_words
from catalog.resolve.brief_facts import BriefFact
from catalog.resolve.fact_index import FactColumn, indexed_facts
from catalog.resolve.fact_values import DISPUTED, Element
from catalog.resolve.fact_words import NOT_STATED
from catalog.resolve.posterior import Posterior
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables

SAME, AGREE, LISTED = 0.95, 0.95, 0.01
_MOST_STATED = 0.5


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
class FactChance:
    """One fact. shares: one number per value of its column; they and `unlisted` add up to 1.

    lower_bound: the least that the likeliest stated value's probability can be. stated, not_stated:
    shares of the records that state something, and nothing.
    """

    column: FactColumn
    shares: Vector
    lower_bound: float
    stated: float
    not_stated: float
    unlisted: float

    @property
    def fact(self) -> BriefFact:
        return self.column.fact

    @property
    def agreement(self) -> float:
        """Share of the likeliest value among the listed vehicles that state anything."""
        return self.lower_bound / self.stated if self.stated > 0 else 0.0

    @cached_property
    def verdict(self) -> Verdict:
        listed = self.stated + self.not_stated
        if self.stated <= (1 - AGREE) * listed:
            return Verdict.NOT_STATED
        if not self._disputed:
            if self.lower_bound >= SAME:
                return Verdict.SAME
            if self.agreement >= AGREE and self.stated > _MOST_STATED * listed:
                return Verdict.AGREE
        return Verdict.DIFFERS

    @cached_property
    def _top(self) -> int | None:
        """The likeliest stated value."""
        if self.stated <= 0:
            return None
        shares = self.shares.copy()
        if self.column.silent is not None:
            shares[self.column.silent] = -1.0
        return int(shares.argmax())

    @property
    def words(self) -> str:
        """The likeliest stated value, "not stated" where nobody states any."""
        return NOT_STATED if self._top is None else self.column.value_words(self._top)

    @cached_property
    def values(self) -> tuple[ValueChance, ...]:
        """The values to show, likeliest first: see the module's words.

        Of a fact of several items (ports, ways, words of a set) each item is a value of its own: a
        vehicle may have several, so these do not add up.
        """
        if self.verdict is Verdict.SAME:
            return (ValueChance(self.words, self.lower_bound),)
        found = sorted(self._listed(), key=lambda entry: (-entry.probability, entry.words))
        return (*found, *self._assumed(found))

    @property
    def reading(self) -> str:
        """What to assume of a vehicle that is silent or not listed."""
        return self.fact.reading

    @property
    def _disputed(self) -> bool:
        """Whether guides disagree about the likeliest value: then nobody agrees."""
        return self._top is not None and any(_is_disputed(element) for element in self.column.said(self._top))

    def _listed(self) -> Iterator[ValueChance]:
        shares = self.column.per_element(self.shares)
        protective = self.column.protective
        numbers = np.flatnonzero((shares > LISTED) | protective)
        told = zip(numbers.tolist(), shares[numbers].tolist(), protective[numbers].tolist(), strict=True)
        for number, share, protects in told:
            yield ValueChance(self.column.element_words(number), share, protects)

    def _assumed(self, found: list[ValueChance]) -> Iterator[ValueChance]:
        """The most protective value where no record states it: silence is read so."""
        attr = self.fact.attrs[0]
        if attr.order is Order.ONE and attr.best is not None and not any(entry.protective for entry in found):
            yield ValueChance(value_words(attr, attr.best), 0.0, protective=True, assumed=True)


def fact_chances(result: Posterior, tables: Tables) -> tuple[FactChance, ...]:
    """Every brief fact, most urgent first; none for an empty catalogue. Words and values are made when asked for."""
    if tables.size == 0:
        return ()
    indexed = indexed_facts(tables)
    shares = indexed.shares(result.records)
    said = shares.copy()
    said[indexed.silent] = 0.0
    stated = np.add.reduceat(said, indexed.starts)
    silent = np.add.reduceat(shares - said, indexed.starts)
    bounds = np.maximum.reduceat(said, indexed.starts)
    numbers = zip(bounds.tolist(), stated.tolist(), silent.tolist(), strict=True)
    return tuple(
        FactChance(column, shares[column.start : column.start + len(column.values)], *three, result.unlisted)
        for column, three in zip(indexed.columns, numbers, strict=True)
    )


def _is_disputed(element: Element) -> bool:
    if isinstance(element, str):
        return element == DISPUTED
    return any(claims is not None and len(claims) > 1 for claims in element)
