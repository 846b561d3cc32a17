"""Names: how well a heard name fits each record, and how well one of its unlisted relatives.

Levels: exact, same sound-fold, one edit (OSA), two edits, other. The ratio of a level is
m_level / u_level, where u_level is the share of records (by prior) at that level *for this very
word*, so a common make says less than a rare one at every level (Fellegi-Sunter with
query-specific u). m is renormalised over the levels that occur, so that the mean ratio is 1.

An unlisted vehicle is a relative of a listed one: it shares the make (less often another name), or
bears a name of its own, which seldom sounds like a listed one.

Who takes a vehicle for another calls it all of that one's names. So with a small share `mistaken`
all names said together are those of a vehicle drawn from the catalogue, and say nothing of the
true one: `together` puts that right where several were said, which are no several witnesses.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.lexicon import LEVELS, Lexicon, Name
from catalog.resolve.likelihood import Vector
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables

_OTHER = len(LEVELS) - 1


@dataclass(frozen=True, slots=True)
class NameEvidence:
    """Ratio of record r: values[index[r]]; the last value is that of a record no heard name comes near.

    few: the positions of all other records. kin: as values, of an unlisted relative of such a record.
    """

    values: Vector
    kin: Vector
    index: NDArray[Any]
    few: NDArray[np.intp]


def name_evidence(heard: Sequence[str], tables: Tables, parameters: Parameters) -> NameEvidence:
    """Evidence of one name cue; several heard values are alternatives and are averaged.

    With several, a record's level for each makes one number: values and index are over their combinations.
    """
    levels, few = record_levels(heard[0], tables)
    found = _ratios(heard[0], levels, few, tables, parameters)
    values, index = found / len(heard), levels
    for value in heard[1:]:
        levels, near = record_levels(value, tables)
        found = _ratios(value, levels, near, tables, parameters)
        values = (values[:, None] + found[None, :] / len(heard)).reshape(-1, 2)
        index, few = index.astype(np.uint32) * len(LEVELS) + levels, np.union1d(few, near)
    return NameEvidence(values[:, 0], values[:, 1], index, few)


def record_levels(heard: str, tables: Tables) -> tuple[NDArray[np.uint8], NDArray[np.intp]]:
    """Index into LEVELS of the best level among each record's names; the positions of those above the last."""
    found = np.full(tables.size, _OTHER, dtype=np.uint8)
    pointers, ids = tables.arrays["name_ptr"], tables.arrays["name_ids"]
    lexicon = lexicon_of(tables)
    near: dict[str, list[NDArray[Any]]] = {}
    for name, level in lexicon.levels(heard).items():
        position = bisect_left(tables.meta["names"], [name])  # they are in order
        near.setdefault(level, []).append(ids[pointers[position] : pointers[position + 1]])
    for level in sorted(near, key=LEVELS.index, reverse=True):  # the best is written last
        found[np.concatenate(near[level])] = LEVELS.index(level)
    return found, np.flatnonzero(found != _OTHER)


def _ratios(
    heard: str, levels: NDArray[np.uint8], few: NDArray[np.intp], tables: Tables, parameters: Parameters
) -> Vector:
    """(levels, 2): the ratio of each level, 1 where no record has it; beside it that of an unlisted relative."""
    said: Mapping[str, float] = parameters.tables["name"]["said"]
    prior: Vector = tables.arrays["prior"]
    sparse = 2 * len(few) < tables.size
    counted, weights = (levels[few], prior[few]) if sparse else (levels, prior)
    share: Vector = np.bincount(counted, weights=weights, minlength=len(LEVELS)).astype(np.float64)
    if sparse:
        share[_OTHER] = 1 - share.sum()  # the prior sums to 1
    chance = np.array([said[level] for level in LEVELS])
    present = share > 0
    chance = np.where(present, chance, 0.0) / chance[present].sum()
    per_level = np.divide(chance, share, out=np.ones_like(share), where=present)
    best = LEVELS[int(np.flatnonzero(present)[0])]
    shared = parameters.tables["name"]["shared"]["make" if _is_make(heard, best, tables) else "other"]
    own = _novel(best, tables, parameters)
    return np.column_stack((per_level, shared * per_level + (1 - shared) * own))


def _is_make(heard: str, best: str, tables: Tables) -> bool:
    """Whether what was heard is a make: one of the names it is nearest to is, or it is near none."""
    names: Sequence[list[str]] = tables.meta["names"]
    nearest = [name for name, level in lexicon_of(tables).levels(heard).items() if level == best]
    return not nearest or any(names[bisect_left(names, [name])][2] == "make" for name in nearest)


def _novel(best: str, tables: Tables, parameters: Parameters) -> float:
    """P(best level of any record | a name nobody listed) / P(the same | a listed name)."""
    table = parameters.tables["name"]
    counted: Mapping[str, int] = tables.meta.get("novel_levels", {})
    weight = float(table["novel_weight"])
    total = weight + sum(counted.values())
    return (weight * float(table["novel"][best]) + counted.get(best, 0)) / total / float(table["said"][best])


@lru_cache(maxsize=4)
def lexicon_of(tables: Tables) -> Lexicon:
    """The lexicon of these tables; a few editions are kept, and one whose names are the last one's shares its."""
    names = tables.meta["names"]
    kept = _last.get("lexicon")
    if kept is not None and kept[0] == names:
        return kept[1]
    made = Lexicon(Name(*entry) for entry in names)
    _last["lexicon"] = names, made
    return made


_last: dict[str, tuple[list[list[str]], Lexicon]] = {}
