"""What a name in the caller's own words would do.

The answers thought of are the makes of the records that stand, likeliest first, heard rightly.
P(name heard | record) is its ratio times P(name heard at all), which is how common the make is.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import Cue
from catalog.resolve.evidence import Evidence, evidence
from catalog.resolve.lexicon import LEVELS
from catalog.resolve.lookalikes import names_of_records
from catalog.resolve.parameters import Parameters
from catalog.resolve.questions.outcomes import Outcomes, at_most_all, mass_of, spread_of
from catalog.resolve.questions.standing import Standing
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables


def name_outcomes(stands: Standing, names: int) -> Outcomes | None:
    """What a make heard would do; None where no record has one. names: most makes thought of."""
    tables, parameters = stands.field.tables, stands.field.parameters
    makes = _makes(tables)
    mine = makes.number[stands.records]
    shares = np.bincount(mine[mine >= 0], weights=stands.shares[mine >= 0])
    asked = np.argsort(-shares, kind="stable")[: min(names, np.count_nonzero(shares))]
    if asked.size == 0:
        return None
    found = [_heard(int(make), tables, parameters) for make in asked]
    kinds = np.zeros(len(stands.records), dtype=np.int64)  # a record's level for each make, as one number
    for entry in found:
        kinds = kinds * len(LEVELS) + entry.index[stands.records]
    _, first, index = np.unique(kinds, return_index=True, return_inverse=True)
    like = stands.records[first]
    kin = np.array([_kin(entry, stands.relatives) for entry in found])
    ratio = np.column_stack([entry.weights.values[entry.index[like]] for entry in found])
    common = makes.common[asked]
    law = at_most_all(ratio * common)
    return Outcomes(
        index=index,
        mass=mass_of(index, stands, len(first)),
        law=law,
        spread=spread_of(law),
        factor=ratio ** (1 / parameters.temperature),
        unlisted_law=at_most_all(kin * common),
        unlisted_factor=kin ** (1 / parameters.temperature),
    )


@lru_cache(maxsize=512)
def _heard(name: int, tables: Tables, parameters: Parameters) -> Evidence:
    """The evidence of a name heard rightly."""
    found = evidence(Cue("name", (str(tables.meta["names"][name][0]),), (), ""), tables, parameters)
    assert found is not None, "a name always ranks"
    return found


def _kin(entry: Evidence, relatives: Vector) -> float:
    """How likely the name is of an unlisted relative of a record, over the relatives there may be."""
    mixed, few = entry.weights.mixed, entry.few
    if few is None:
        return float(relatives @ mixed[entry.index])
    return float(mixed[-1] + relatives[few] @ (mixed[entry.index[few]] - mixed[-1]))


@dataclass(frozen=True, eq=False)
class _Makes:
    """number: the name that is each record's make, -1 where none is. common: prior mass of each name as a make."""

    number: NDArray[np.intp]
    common: Vector


@lru_cache(maxsize=4)
def _makes(tables: Tables) -> _Makes:
    pointers, ids = names_of_records(tables)
    is_make = np.array([kind == "make" for _, _, kind in tables.meta["names"]], dtype=np.bool_)
    number = np.full(tables.size, -1, dtype=np.intp)
    for record in range(tables.size):
        mine = ids[pointers[record] : pointers[record + 1]]
        number[record] = next(iter(mine[is_make[mine]]), -1)
    known = number >= 0
    common = np.bincount(number[known], weights=tables.arrays["prior"][known], minlength=len(is_make))
    return _Makes(number, np.asarray(common, dtype=np.float64))
