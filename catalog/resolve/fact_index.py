"""The facts of one edition, ready to be weighed: how many records' shares fall on each value.

Facts whose values occur together in few combinations share one column, so that a share per value
of every fact takes a dozen passes over the records, not one per fact.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.brief_facts import FACTS, BriefFact
from catalog.resolve.fact_protective import protective_elements
from catalog.resolve.fact_values import Element, element_from_json
from catalog.resolve.fact_words import NOT_STATED, element_words
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables

_MOST_TOGETHER = 1024


@dataclass(frozen=True, eq=False)
class FactColumn:
    """One fact of an edition. start: where its values begin among those of all facts.

    values: element ids of each value, None for the one that says nothing.
    """

    fact: BriefFact
    start: int
    values: Sequence[Sequence[int] | None]
    stored: Sequence[Any]

    @cached_property
    def elements(self) -> tuple[Element, ...]:
        return tuple(element_from_json(entry) for entry in self.stored)

    @cached_property
    def silent(self) -> int | None:
        """The value that says nothing; None where every record says something."""
        return next((place for place, ids in enumerate(self.values) if ids is None), None)

    def said(self, value: int) -> tuple[Element, ...]:
        """The elements of a value."""
        return tuple(self.elements[number] for number in self.values[value] or ())

    def value_words(self, value: int) -> str:
        """All that a record with this value says, in one run of words."""
        apart = ", " if self.fact.words_apart else "; "
        return apart.join(self.element_words(number) for number in self.values[value] or ()) or NOT_STATED

    @cached_property
    def words(self) -> list[str]:
        """Each element in words; "" until it was asked for (`element_words`)."""
        return [""] * len(self.stored)

    def element_words(self, number: int) -> str:
        """An element as one among those of a vehicle; kept."""
        if not self.words[number]:
            self.words[number] = element_words(self.fact, self.elements[number])
        return self.words[number]

    @cached_property
    def protective(self) -> NDArray[np.bool_]:
        """Which elements are shown however unlikely."""
        return protective_elements(self.fact, self.elements)

    @cached_property
    def _pairs(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """(value, element) of every element of every value."""
        pairs = [(value, element) for value, ids in enumerate(self.values) for element in ids or ()]
        made = np.array(pairs, dtype=np.intp).reshape(len(pairs), 2)
        return made[:, 0].copy(), made[:, 1].copy()

    def per_element(self, shares: Vector) -> Vector:
        """The share of the vehicles that have each element; a vehicle may have several."""
        values, elements = self._pairs
        found = np.bincount(elements, weights=shares[values], minlength=len(self.stored))
        return np.asarray(found, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class _Together:
    """Facts weighed in one pass. column: combination of each record; members: (fact, value of each combination)."""

    column: NDArray[np.intp]
    count: int
    members: tuple[tuple[int, NDArray[np.intp]], ...]


@dataclass(frozen=True, eq=False)
class IndexedFacts:
    """Every fact, in the order of FACTS.

    starts: where each one's values begin; silent: which values say nothing; size: of all values.
    """

    columns: tuple[FactColumn, ...]
    starts: NDArray[np.intp]
    silent: NDArray[np.intp]
    size: int
    together: tuple[_Together, ...]

    def shares(self, records: Vector) -> Vector:
        """One number per value of every fact: the sum over the records that say so."""
        made = np.empty(self.size)
        for batch in self.together:
            combined = np.bincount(batch.column, weights=records, minlength=batch.count)
            for place, values in batch.members:
                column = self.columns[place]
                end = column.start + len(column.values)
                made[column.start : end] = np.bincount(values, weights=combined, minlength=len(column.values))
        return made


@lru_cache(maxsize=4)
def indexed_facts(tables: Tables) -> IndexedFacts:
    """The facts of these tables; a few editions are kept."""
    columns, start = [], 0
    for fact in FACTS:
        told = tables.meta["facts"][fact.key]
        columns.append(FactColumn(fact, start, told["values"], told["elements"]))
        start += len(told["values"])
    starts = np.array([column.start for column in columns], dtype=np.intp)
    silent = np.array([c.start + c.silent for c in columns if c.silent is not None], dtype=np.intp)
    return IndexedFacts(tuple(columns), starts, silent, start, _batches(tables, columns))


def _batches(tables: Tables, columns: Sequence[FactColumn]) -> tuple[_Together, ...]:
    """Facts of few values first, joined as long as few combinations occur."""
    order = sorted(range(len(columns)), key=lambda place: len(columns[place].values))
    made: list[_Together] = []
    chosen: list[int] = []
    kept = np.zeros(tables.size, dtype=np.intp)
    for place in order:
        column = np.asarray(tables.arrays["facts"][place], dtype=np.intp)
        _, joined = np.unique(kept * max(1, len(columns[place].values)) + column, return_inverse=True)
        if chosen and joined.size and joined.max() >= _MOST_TOGETHER:
            made.append(_together(chosen, kept, tables))
            chosen, joined = [], column
        chosen.append(place)
        kept = joined
    return (*made, _together(chosen, kept, tables))


def _together(chosen: Sequence[int], column: NDArray[np.intp], tables: Tables) -> _Together:
    _, first = np.unique(column, return_index=True)
    members = tuple((place, np.asarray(tables.arrays["facts"][place][first], dtype=np.intp)) for place in chosen)
    return _Together(column.astype(np.intp), len(first), members)
