"""The tables of an edition in which a few records say other things, from those of the edition before.

Equal to building them from every row (tested): what the other records say is taken by number instead of being read.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.brief_facts import FACTS
from catalog.resolve.fact_values import encoded, stored
from catalog.resolve.rows import Row
from catalog.resolve.tables import Tables, distinct_type
from catalog.resolve.truth import TRUTHS


@dataclass(frozen=True, slots=True)
class RowChange:
    """What the tables took from a record before, and what they take now."""

    old: Row
    new: Row


def amended(tables: Tables, changes: Sequence[RowChange]) -> Tables | None:
    """The tables with these records changed; None where that takes building them anew.

    It does where a name changes: how near names lie depends on all of them.
    """
    if any(_named(change.old) != _named(change.new) for change in changes):
        return None
    place = {code: number for number, code in enumerate(tables.meta["codes"])}
    at = [place[change.new.code] for change in changes]
    arrays, meta = dict(tables.arrays), dict(tables.meta)
    signatures = dict(meta["signatures"])
    for number, attribute in enumerate(TRUTHS):
        texts = {place: change.new.truths[number] for place, change in zip(at, changes, strict=True)}
        name = f"sig_{attribute}"
        arrays[name], signatures[attribute] = _renumbered(arrays[name], signatures[attribute], texts)
    columns, told = [], {}
    for number, fact in enumerate(FACTS):
        texts = {place: change.new.facts[number] for place, change in zip(at, changes, strict=True)}
        column, values = _renumbered(arrays["facts"][number], _values(meta["facts"][fact.key]), texts)
        columns.append(column)
        told[fact.key] = stored(values)
    arrays["facts"] = np.stack(columns)
    meta |= {"signatures": signatures, "facts": told}
    for key, which in (("titles", "title"), ("subtitles", "subtitle")):
        meta[key] = list(meta[key])
        for number, change in zip(at, changes, strict=True):
            meta[key][number] = getattr(change.new, which)
    return Tables(arrays, meta)


def _named(row: Row) -> tuple[object, ...]:
    return row.code, row.popularity, row.make, row.names


def _values(told: Mapping[str, Any]) -> list[Any]:
    """The distinct values of a fact, as `stored` was handed them."""
    elements = told["elements"]
    return [None if ids is None else [elements[number] for number in ids] for ids in told["values"]]


def _renumbered(index: NDArray[Any], values: Sequence[Any], texts: Mapping[int, str]) -> tuple[NDArray[Any], list[Any]]:
    """Index and values in order of first appearance once some places hold other texts."""
    numbers = {encoded(value): number for number, value in enumerate(values)}
    if all(int(index[place]) == numbers.get(text, -1) for place, text in texts.items()):
        return np.array(index, dtype=distinct_type(len(values))), list(values)
    known = list(values)
    made = np.array(index, dtype=np.int64)
    for place, text in texts.items():
        if text not in numbers:
            numbers[text] = len(known)
            known.append(json.loads(text))
        made[place] = numbers[text]
    used, first, inverse = np.unique(made, return_index=True, return_inverse=True)
    order = np.argsort(first)
    rank = np.empty(len(used), dtype=np.int64)
    rank[order] = np.arange(len(used))
    return rank[inverse].astype(distinct_type(len(used))), [known[int(used[place])] for place in order]
