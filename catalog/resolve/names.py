"""Names: how well a heard name fits each record, and how new it sounds.

Levels: exact, same sound-fold, one edit (OSA), two edits, other. The ratio of a level is
m_level / u_level, where u_level is the share of records (by prior) at that level *for this very
word*, so a common make says less than a rare one at every level (Fellegi-Sunter with
query-specific u). m is renormalised over the levels that occur, so that the mean ratio is 1.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from catalog.resolve.lexicon import LEVELS, Lexicon, Name
from catalog.resolve.likelihood import Vector
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables


@dataclass(frozen=True, slots=True)
class NameEvidence:
    """ratio per record; best: the best level anywhere; novel: P(heard | unlisted) / P(heard | listed)."""

    ratio: Vector
    best: str
    novel: float


def name_evidence(heard: Sequence[str], tables: Tables, parameters: Parameters) -> NameEvidence:
    """Evidence of one name cue; several heard values are alternatives and are averaged."""
    made = [_one(value, tables, parameters) for value in heard]
    ratio = np.mean([entry.ratio for entry in made], axis=0)
    best = min((entry.best for entry in made), key=LEVELS.index)
    return NameEvidence(ratio, best, float(np.mean([entry.novel for entry in made])))


def record_levels(heard: str, tables: Tables) -> Vector:
    """Index into LEVELS of the best level among each record's names."""
    found = np.full(tables.size, len(LEVELS) - 1, dtype=np.int8)
    pointers, ids = tables.arrays["name_ptr"], tables.arrays["name_ids"]
    positions = lexicon_of(tables).positions
    for name, level in lexicon_of(tables).lexicon.levels(heard).items():
        position = positions[name]
        holders = ids[pointers[position] : pointers[position + 1]]
        found[holders] = np.minimum(found[holders], LEVELS.index(level))
    return np.asarray(found)


def _one(heard: str, tables: Tables, parameters: Parameters) -> NameEvidence:
    said: Mapping[str, float] = parameters.tables["name"]["said"]
    levels = record_levels(heard, tables)
    share = np.bincount(levels, weights=tables.arrays["prior"], minlength=len(LEVELS))
    chance = np.array([said[level] for level in LEVELS])
    present = share > 0
    chance = np.where(present, chance, 0.0) / chance[present].sum()
    per_level = np.divide(chance, share, out=np.ones_like(share), where=present)
    best = LEVELS[int(levels.min())]
    return NameEvidence(per_level[levels], best, _novel(best, tables, parameters))


def _novel(best: str, tables: Tables, parameters: Parameters) -> float:
    """Part of the unlisted share a listed make; of the rest, a new name seldom fits this well."""
    table = parameters.tables["name"]
    counted: Mapping[str, int] = tables.meta.get("novel_levels", {})
    weight = float(table["novel_weight"])
    total = weight + sum(counted.values())
    new = (weight * table["novel"][best] + counted.get(best, 0)) / total
    return float(table["shared"] + (1 - table["shared"]) * new / table["said"][best])


@dataclass(frozen=True, slots=True)
class IndexedLexicon:
    """The edition's lexicon, and where each folded name stands in the tables."""

    lexicon: Lexicon
    positions: Mapping[str, int]


@lru_cache(maxsize=4)
def lexicon_of(tables: Tables) -> IndexedLexicon:
    """The lexicon of these tables; a few editions are kept."""
    names = tuple(Name(*entry) for entry in tables.meta["names"])
    return IndexedLexicon(Lexicon(names), {name.folded: place for place, name in enumerate(names)})
