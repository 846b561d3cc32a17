"""The facts of one edition, ready to be weighed: how many records' shares fall on each value.

Facts whose values occur together in few combinations share one column, so that a share per value
of every fact takes a dozen passes over the records, not one per fact; what follows is done for all
facts at once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.domain.spec.nodes import Attr, Order
from catalog.domain.wording import value_words
from catalog.resolve.brief_facts import FACTS, BriefFact
from catalog.resolve.fact_protective import protective_elements
from catalog.resolve.fact_values import Element, element_from_json, is_disputed
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
        """All that a record with this value says, in one run of words; kept."""
        if value not in self._value_words:
            apart = ", " if self.fact.words_apart else "; "
            words = apart.join([self.element_words(number) for number in self.values[value] or ()])
            self._value_words[value] = words or NOT_STATED
        return self._value_words[value]

    @cached_property
    def _value_words(self) -> dict[int, str]:
        return {}

    @cached_property
    def words(self) -> list[str]:
        """Each element in words; "" until it was asked for (`element_words`)."""
        return [""] * len(self.stored)

    def element_words(self, number: int) -> str:
        """An element as one among those of a vehicle; kept."""
        if not self.words[number]:
            self.words[number] = element_words(self.fact, self.elements[number])
        return self.words[number]


@dataclass(frozen=True, eq=False)
class _Elements:
    """The elements of all facts in one row. values, members: the value and the element of each element of each value.

    fact: of each element; first: the number of a fact's first one. protective: which are shown however
    unlikely. disputed: the values in which guides disagree.
    """

    values: NDArray[np.intp]
    members: NDArray[np.intp]
    fact: NDArray[np.intp]
    first: NDArray[np.intp]
    protective: NDArray[np.bool_]
    disputed: frozenset[int]


@dataclass(frozen=True, eq=False)
class _Together:
    """Facts weighed in passes over the records, a batch of facts each, and one over the batches' combinations.

    columns: (combination of each record, number of combinations) of a batch. values, combinations: what each
    combination says of each fact of its batch; combinations are numbered through all batches.
    """

    columns: tuple[tuple[NDArray[np.intp], int], ...]
    values: NDArray[np.intp]
    combinations: NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class IndexedFacts:
    """Every fact, in the order of FACTS.

    starts: where each one's values begin; silent: which values say nothing; size: of all values. facts: as in
    `Tables`.
    """

    columns: tuple[FactColumn, ...]
    starts: NDArray[np.intp]
    silent: NDArray[np.intp]
    size: int
    together: _Together
    facts: NDArray[Any]

    def shares(self, records: Vector) -> Vector:
        """One number per value of every fact: the sum over the records that say so."""
        joined = [_sums(column, records, count) for column, count in self.together.columns]
        return _sums(self.together.values, np.concatenate(joined)[self.together.combinations], self.size)

    def per_element(self, shares: Vector) -> Vector:
        """From one number per value: the share of the vehicles that have each element; one may have several."""
        told = self.elements
        return _sums(told.members, shares[told.values], len(told.fact))

    @cached_property
    def assumed(self) -> tuple[str | None, ...]:
        """Of each fact the most protective value in words where no record states it: silence is read so."""
        told = self.elements
        some = np.bincount(told.fact[told.protective], minlength=len(self.columns))
        return tuple(
            None if some[place] or column.fact.attrs[0].order is not Order.ONE else _best(column.fact.attrs[0])
            for place, column in enumerate(self.columns)
        )

    @cached_property
    def alike(self) -> NDArray[np.int32]:
        """One number per record, the same for records that say the same of every fact: a crew acts the same on them."""
        seen: dict[bytes, int] = {}
        rows = np.ascontiguousarray(self.facts.T)
        return np.array([seen.setdefault(row.tobytes(), len(seen)) for row in rows], dtype=np.int32)

    @cached_property
    def elements(self) -> _Elements:
        pairs = [
            (column.start + value, number, place)
            for place, column in enumerate(self.columns)
            for value, ids in enumerate(column.values)
            for number in ids or ()
        ]
        values, members, facts = np.array(pairs, dtype=np.intp).reshape(-1, 3).T.copy()
        counts = [len(column.stored) for column in self.columns]
        first = np.concatenate(([0], np.cumsum(counts))).astype(np.intp)
        members += first[facts]
        disputed = [is_disputed(element) for column in self.columns for element in column.elements]
        return _Elements(
            values=values,
            members=members,
            fact=np.repeat(np.arange(len(counts)), counts),
            first=first,
            protective=np.concatenate([protective_elements(column.fact, column.elements) for column in self.columns]),
            disputed=frozenset(values[np.array(disputed, dtype=np.bool_)[members]].tolist()),
        )


def _best(attr: Attr) -> str | None:
    return None if attr.best is None else value_words(attr, attr.best)


def _sums(places: NDArray[np.intp], weights: Vector, size: int) -> Vector:
    return np.asarray(np.bincount(places, weights=weights, minlength=size), dtype=np.float64)


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
    return IndexedFacts(tuple(columns), starts, silent, start, _together(tables, columns), tables.arrays["facts"])


def _together(tables: Tables, columns: Sequence[FactColumn]) -> _Together:
    """Facts of few values first, joined as long as few combinations occur."""
    batches, facts = _batches(tables, columns), tables.arrays["facts"]
    joined, values, combinations, many = [], [], [], 0
    for chosen, column in batches:
        _, first = np.unique(column, return_index=True)
        joined.append((column.astype(np.intp), len(first)))
        for place in chosen:
            values.append(columns[place].start + facts[place][first].astype(np.intp))
            combinations.append(np.arange(many, many + len(first)))
        many += len(first)
    return _Together(tuple(joined), np.concatenate(values), np.concatenate(combinations))


def _batches(tables: Tables, columns: Sequence[FactColumn]) -> list[tuple[list[int], NDArray[np.intp]]]:
    """(facts, combination of each record) of each batch."""
    order = sorted(range(len(columns)), key=lambda place: len(columns[place].values))
    made: list[tuple[list[int], NDArray[np.intp]]] = []
    chosen: list[int] = []
    kept = np.zeros(tables.size, dtype=np.intp)
    for place in order:
        column = np.asarray(tables.arrays["facts"][place], dtype=np.intp)
        _, joined = np.unique(kept * max(1, len(columns[place].values)) + column, return_inverse=True)
        if chosen and joined.size and joined.max() >= _MOST_TOGETHER:
            made.append((chosen, kept))
            chosen, joined = [], column
        chosen.append(place)
        kept = joined
    return [*made, (chosen, kept)]
