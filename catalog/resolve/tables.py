"""The search tables of one edition: what every cue is compared with.

arrays: one unsigned signature index per attribute ("sig_body"), the prior ("prior"), the
names of each record as CSR ("name_ptr", "name_ids"), and a value number per brief fact and record
("facts"). meta: JSON-able, holds the codes in order, the signatures, the names and the facts' values.
Both are what the compiled edition stores.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.brief_facts import FACTS
from catalog.resolve.fact_values import stored
from catalog.resolve.lexicon import LEVELS, Lexicon, Name
from catalog.resolve.rows import Entry, Row, row_of
from catalog.resolve.truth import TRUTHS

_MOST_MAKES = 400


@dataclass(frozen=True, eq=False)
class Tables:
    """Arrays and JSON-able meta of one edition; compared by identity so that they can key caches."""

    arrays: Mapping[str, NDArray[Any]]
    meta: Mapping[str, Any]

    @property
    def size(self) -> int:
        return len(self.meta["codes"])


def build_tables(entries: Iterable[Entry]) -> Tables:
    """Build the tables of some records, read once, one after the other; none is kept."""
    return tables_of(row_of(entry) for entry in entries)


def tables_of(taken: Iterable[Row]) -> Tables:
    """The tables of these rows. Records are ordered by code, so equal input gives equal bytes."""
    rows = sorted(taken, key=lambda row: row.code)
    arrays: dict[str, NDArray[Any]] = {"prior": _prior(rows)}
    signatures: dict[str, list[Any]] = {}
    for place, attribute in enumerate(TRUTHS):
        arrays[f"sig_{attribute}"], signatures[attribute] = _distinct([row.truths[place] for row in rows])
    names, arrays["name_ptr"], arrays["name_ids"] = _names(rows)
    arrays["facts"], facts = _facts(rows)
    meta: dict[str, Any] = {
        "codes": [row.code for row in rows],
        "titles": [row.title for row in rows],
        "subtitles": [row.subtitle for row in rows],
        "signatures": signatures,
        "names": [list(name) for name in names],
        "novel_levels": _novel_levels(rows, names),
        "facts": facts,
    }
    return Tables(arrays, meta)


def with_popularity(tables: Tables, shares: Mapping[str, float]) -> Tables:
    """The same edition as one site meets it. shares: code -> how often it is met there, in any unit, none below 0.

    Records without a share are met as seldom as can be; codes that this edition does not hold say nothing.
    """
    met = np.array([shares.get(code, 0.0) for code in tables.meta["codes"]], dtype=np.float64)
    return Tables({**tables.arrays, "prior": _mixed(met)}, tables.meta)


def _prior(rows: Sequence[Row]) -> NDArray[np.float64]:
    return _mixed(np.array([row.popularity or 0.0 for row in rows], dtype=np.float64))


def _mixed(popularity: NDArray[np.float64]) -> NDArray[np.float64]:
    """Half popularity, half uniform; uniform where no popularity is known. Sums to 1."""
    count = len(popularity)
    if count == 0:
        return np.zeros(0)
    uniform = np.full(count, 1 / count)
    if popularity.sum() <= 0:
        return uniform
    return np.asarray(0.5 * popularity / popularity.sum() + 0.5 * uniform, dtype=np.float64)


def _distinct(texts: Sequence[str]) -> tuple[NDArray[Any], list[Any]]:
    """Index into the distinct values, in order of first appearance. texts: values as JSON."""
    seen: dict[str, int] = {}
    index = np.array([seen.setdefault(text, len(seen)) for text in texts], dtype=np.uint32)
    return index.astype(distinct_type(len(seen))), [json.loads(text) for text in seen]


def distinct_type(count: int) -> type[np.unsignedinteger[Any]]:
    """What an index into so many values is kept in."""
    return np.uint16 if count < 2**16 else np.uint32


def _facts(rows: Sequence[Row]) -> tuple[NDArray[Any], dict[str, Any]]:
    """(facts, records) of value numbers, and {fact: {"elements", "values"}}."""
    made = [_distinct([row.facts[place] for row in rows]) for place in range(len(FACTS))]
    told = {fact.key: stored(values) for fact, (_, values) in zip(FACTS, made, strict=True)}
    return np.stack([column for column, _ in made]), told


def _names(rows: Sequence[Row]) -> tuple[list[tuple[str, str, str]], NDArray[Any], NDArray[Any]]:
    """Distinct names, and CSR from name to the records that carry it."""
    holders: dict[str, list[int]] = {}
    shown: dict[str, tuple[str, str, str]] = {}
    for position, row in enumerate(rows):
        for name in row.names:
            holders.setdefault(name[0], []).append(position)
            shown.setdefault(name[0], name)
    keys = sorted(shown)
    pointers = np.zeros(len(keys) + 1, dtype=np.int64)
    pointers[1:] = np.cumsum([len(holders[key]) for key in keys])
    ids = np.array([position for key in keys for position in holders[key]], dtype=np.int32)
    return [shown[key] for key in keys], pointers, ids


def _novel_levels(rows: Sequence[Row], names: Sequence[tuple[str, str, str]]) -> dict[str, int]:
    """How near each make's name comes to the names of all other makes, counted by best level.

    This is what a make that is not listed would look like (leave one name out).
    """
    carried: dict[str, set[str]] = {}
    for row in rows:
        for folded, _, _ in row.names:
            carried.setdefault(folded, set()).add(row.make)
    lexicon = Lexicon(tuple(Name(*name) for name in names))
    counted = dict.fromkeys(LEVELS, 0)
    for make in sorted({make for makes in carried.values() for make in makes})[:_MOST_MAKES]:
        levels = [level for name, level in lexicon.levels(make).items() if carried[name] - {make}]
        counted[min(levels, key=LEVELS.index, default="other")] += 1
    return counted
