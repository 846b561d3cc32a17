"""Which vehicles look alike, whether a crew acts the same on them, and the sights that tell them apart.

One record is compared with all, or with a few: never all with all. Two records look alike when
what would be said of what is seen of both, added over the looks, differs by less than `ALIKE`
bits. They act alike when every brief fact has the same value in both, silence included. A sight
tells two apart only where both records state it: what is not stated tells nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.domain.spec.nodes import Text
from catalog.resolve.brief_facts import FACTS
from catalog.resolve.fact_index import FactColumn, indexed_facts
from catalog.resolve.field import Field
from catalog.resolve.labels import truth_words
from catalog.resolve.said import divergence, said_of
from catalog.resolve.scorer import Vector
from catalog.resolve.sights import LOOKS, SAFE_FOR, SIGHTS, Observer, Sight
from catalog.resolve.tables import Tables

# Bits. One feature that people often mix up (a grille for an intake: .42) is below, a clear one above.
ALIKE = 0.5
_TELLS = 0.2  # bits a sight must be worth to be named
NO_FURTHER, NO_NAME = "no further one stated", "no further name known"


@dataclass(frozen=True, slots=True)
class Difference:
    """A brief fact that two or more records do not say the same of. values: one per record, in words."""

    key: str
    label: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Telling:
    """A sight that tells two records apart. values: what each one shows. bits: how well it tells, 0 to 1."""

    sight: Sight
    values: tuple[str, str]
    bits: float


@dataclass(frozen=True, slots=True)
class Lookalike:
    """position: of the other record. bits: how far its looks lie from the first one's; 0 is the same.

    differs: brief facts of the two that differ, what weighs most first. telling: safe sights, cheapest first.
    """

    position: int
    bits: float
    differs: tuple[Difference, ...]
    telling: tuple[Telling, ...]


def looks_apart(position: int, field: Field) -> Vector:
    """Bits between the looks of one record and of every record."""
    tables, made = field.tables, np.zeros(field.tables.size)
    for attribute in LOOKS:
        index = tables.arrays[f"sig_{attribute}"]
        made += divergence(attribute, int(index[position]), tables, field.parameters)[index]
    return made


def looks_between(positions: NDArray[np.intp], field: Field) -> Vector:
    """(n, n) bits between the looks of a few records, which have few signatures among them."""
    tables, made = field.tables, np.zeros((len(positions), len(positions)))
    for attribute in LOOKS if len(positions) else ():
        numbers: dict[int, int] = {}
        signatures = tables.arrays[f"sig_{attribute}"][positions].tolist()
        place = np.array([numbers.setdefault(one, len(numbers)) for one in signatures])
        if len(numbers) > 1:
            distinct = list(numbers)
            apart = np.array([divergence(attribute, one, tables, field.parameters)[distinct] for one in distinct])
            made += apart[place[:, None], place]
    return made


def lookalikes(position: int, field: Field, observer: Observer, *, limit: int = 5) -> tuple[Lookalike, ...]:
    """The records that look like one, nearest first, at most `limit` of them.

    Of those equally near, the ones a crew must treat otherwise come first: they are the dangerous ones.
    """
    bits = looks_apart(position, field)
    bits[position] = np.inf
    near = np.flatnonzero(bits < ALIKE)
    facts = field.tables.arrays["facts"]
    same_action = np.asarray(facts[:, near] == facts[:, position : position + 1]).all(axis=0)
    chosen = near[np.lexsort((near, same_action, np.round(bits[near], 9)))][:limit]
    return tuple(
        Lookalike(
            int(other),
            float(bits[other]),
            differences((position, int(other)), field.tables)[0],
            tellings(position, int(other), field, observer),
        )
        for other in chosen
    )


def differences(
    positions: Sequence[int], tables: Tables, most: int | None = None
) -> tuple[tuple[Difference, ...], int]:
    """Brief facts that the records do not all say the same of, what weighs most first, and how many there are.

    Of facts that weigh the same those in free text come last: two guides may only word them differently.
    most: how many to put in words; None for all.
    """
    facts = np.asarray(tables.arrays["facts"][:, list(positions)])
    columns = indexed_facts(tables).columns
    differing = _HEAVIEST[(facts != facts[:, :1]).any(axis=1)[_HEAVIEST]].tolist()
    told = (
        Difference(FACTS[place].key, FACTS[place].label, _apart(columns[place], facts[place].tolist()))
        for place in differing[:most]
    )
    return tuple(told), len(differing)


def _heaviest_first(place: int) -> tuple[int, bool, int]:
    fact = FACTS[place]
    return (-fact.weight, isinstance(fact.attrs[-1].kind, Text), place)


_HEAVIEST = np.array(sorted(range(len(FACTS)), key=_heaviest_first))


def _apart(column: FactColumn, values: Sequence[int]) -> tuple[str, ...]:
    """Each record's value without what all of them have in common."""
    said = [column.values[value] for value in values]
    common = set(said[0] or ()).intersection(*[ids or () for ids in said[1:]])
    if not common:
        return tuple(column.value_words(value) for value in values)
    rest = [[number for number in ids or () if number not in common] for ids in said]
    return tuple("; ".join(map(column.element_words, numbers)) or NO_FURTHER for numbers in rest)


def tellings(first: int, second: int, field: Field, observer: Observer) -> tuple[Telling, ...]:
    """The sights that tell two records apart and are safe for the observer, cheapest first."""
    made = (_telling(sight, first, second, field) for sight in SIGHTS if sight.stance in SAFE_FOR[observer])
    found = [telling for telling in made if telling is not None and telling.bits >= _TELLS]
    return tuple(sorted(found, key=lambda telling: telling.sight.cost / telling.bits))


def _telling(sight: Sight, first: int, second: int, field: Field) -> Telling | None:
    tables, attribute = field.tables, sight.attribute
    if attribute == "name":
        return _badge(sight, first, second, tables)
    index = tables.arrays[f"sig_{attribute}"]
    one, two = int(index[first]), int(index[second])
    stated = said_of(attribute, tables, field.parameters).stated
    if one == two or not (stated[one] and stated[two]):
        return None
    signatures: Sequence[Any] = tables.meta["signatures"][attribute]
    words = (truth_words(attribute, signatures[one]), truth_words(attribute, signatures[two]))
    bits = float(divergence(attribute, one, tables, field.parameters)[two])
    return None if words[0] == words[1] else Telling(sight, words, bits)


def _badge(sight: Sight, first: int, second: int, tables: Tables) -> Telling | None:
    """Names that only one of the two carries; where only one has any, its absence is a weak sign."""
    one, two = _names(first, tables), _names(second, tables)
    only = [sorted(one - two), sorted(two - one)]
    if not any(only):
        return None
    names = tables.meta["names"]
    first_only, second_only = (" or ".join(names[number][1] for number in each) or NO_NAME for each in only)
    return Telling(sight, (first_only, second_only), 0.9 if all(only) else 0.3)


def _names(position: int, tables: Tables) -> frozenset[int]:
    pointers, ids = names_of_records(tables)
    return frozenset(ids[pointers[position] : pointers[position + 1]].tolist())


@lru_cache(maxsize=4)
def names_of_records(tables: Tables) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """CSR from record to its names: the tables' own the other way round."""
    pointers, records = np.asarray(tables.arrays["name_ptr"]), np.asarray(tables.arrays["name_ids"])
    names = np.repeat(np.arange(len(pointers) - 1), np.diff(pointers))
    order = np.argsort(records, kind="stable")
    counts = np.bincount(records, minlength=tables.size)
    return np.concatenate(([0], np.cumsum(counts))).astype(np.intp), names[order]
