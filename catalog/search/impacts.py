"""Per-term scores, made once from what was counted, and to and from plain arrays on disk.

The scores are the text library's own BM25F, reckoned for all words at once (its own searches are
the check: tests/outside/test_impacts.py).
"""

import json
import math
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from catalog.search.counts import Counts
from catalog.search.port import DocumentKey, Impacts

# The library's own: how much a note's length and a word's repeats count.
_B, _K1 = 0.75, 1.2
_ARRAYS = ("indptr", "docs", "scores")
_COUNTED = ("times", "lengths")


def impacts_of(
    counts: Counts, documents: Sequence[DocumentKey], boosts: Sequence[float], kept: Callable[[int], int]
) -> Impacts:
    """The scores of every word in every note, fields added up.

    documents: the notes' keys, in the order they were counted in. boosts: of each field. kept: a length as the
    library keeps it, which is rounded.
    """
    indptr = np.searchsorted(counts.term, np.arange(len(counts.terms) + 1)).astype(np.int64)
    scores = np.zeros(len(counts.docs))
    for field, boost in enumerate(boosts):
        scores += _field_scores(counts, field, boost, kept)
    return Impacts(counts.terms, indptr, counts.docs, scores, tuple(documents))


def _field_scores(counts: Counts, field: int, boost: float, kept: Callable[[int], int]) -> NDArray[np.float64]:
    times, lengths = counts.times[:, field], counts.lengths[:, field]
    notes = len(lengths)
    holders = np.bincount(counts.term[times > 0], minlength=len(counts.terms)).tolist()
    rarity = np.array([math.log(notes / (each + 1)) + 1 for each in holders])
    average = int(lengths.sum()) / max(1, notes) or 1
    different, which = np.unique(lengths, return_inverse=True)
    rounded = np.array([kept(int(length)) for length in different], dtype=np.float64)[which]
    weight = times * boost
    found = np.flatnonzero(times)
    by, long = weight[found], rounded[counts.docs[found]]
    made = np.zeros(len(times))
    made[found] = rarity[counts.term[found]] * ((by * (_K1 + 1)) / (by + _K1 * ((1 - _B) + _B * long / average)))
    return made


def save_impacts(folder: Path, impacts: Impacts, counts: Counts) -> None:
    """Write the arrays and the names of rows and columns; equal impacts give equal bytes."""
    folder.mkdir(parents=True)
    for name in _ARRAYS:
        np.save(folder / f"{name}.npy", getattr(impacts, name), allow_pickle=False)
    for name in _COUNTED:
        array = getattr(counts, name)
        small = array.astype(np.min_scalar_type(int(array.max(initial=0))))
        np.save(folder / f"{name}.npy", small, allow_pickle=False)
    names = {"terms": impacts.terms, "documents": impacts.documents}
    (folder / "names.json").write_text(json.dumps(names, ensure_ascii=False), encoding="utf-8")


def load_impacts(folder: Path) -> Impacts:
    """Open what save_impacts wrote, memory-mapped."""
    arrays = {name: np.load(folder / f"{name}.npy", mmap_mode="r", allow_pickle=False) for name in _ARRAYS}
    names = json.loads((folder / "names.json").read_text(encoding="utf-8"))
    return Impacts(tuple(names["terms"]), **arrays, documents=tuple(map(DocumentKey._make, names["documents"])))


def load_counts(folder: Path, opened: Impacts | None = None) -> Counts:
    """What the impacts in a folder were made from. opened: these impacts, where they are open already."""
    impacts = opened or load_impacts(folder)
    times, lengths = (np.load(folder / f"{name}.npy", allow_pickle=False).astype(np.int32) for name in _COUNTED)
    term = np.repeat(np.arange(len(impacts.terms), dtype=np.int32), np.diff(impacts.indptr))
    return Counts(impacts.terms, term, np.array(impacts.docs), times, lengths)
