"""Per-term scores out of the text library, once, and to and from plain arrays on disk."""

import json
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import astuple
from pathlib import Path
from typing import Any

import numpy as np

from catalog.search.port import DocumentKey, Impacts, TextDocument

_ARRAYS = ("indptr", "docs", "scores")


def read_impacts(searcher: Any, fields: Sequence[str], documents: Sequence[TextDocument]) -> Impacts:
    """Read every posting with the score the searcher gives it, fields added up.

    searcher: the library's, over an index of `documents` in this order. Segments are read one
    by one with the whole index's word frequencies.
    """
    rows: dict[str, dict[int, float]] = defaultdict(lambda: defaultdict(float))
    for leaf, offset in searcher.leaf_searchers():
        for field in fields:
            for term in leaf.lexicon(field):
                name = term.decode()
                matcher = leaf.postings(field, name, weighting=searcher.weighting)
                while matcher.is_active():
                    rows[name][matcher.id() + offset] += matcher.score()
                    matcher.next()
    terms = tuple(sorted(rows))
    ordered = [sorted(rows[term].items()) for term in terms]
    indptr = np.zeros(len(terms) + 1, dtype=np.int64)
    indptr[1:] = np.cumsum([len(row) for row in ordered])
    docs = np.array([number for row in ordered for number, _ in row], dtype=np.int32)
    scores = np.array([score for row in ordered for _, score in row], dtype=np.float64)
    keys = tuple(DocumentKey(note.kind, note.key, note.page) for note in documents)
    return Impacts(terms, indptr, docs, scores, keys)


def save_impacts(folder: Path, impacts: Impacts) -> None:
    """Write the arrays and the names of rows and columns; equal impacts give equal bytes."""
    folder.mkdir(parents=True)
    for name in _ARRAYS:
        np.save(folder / f"{name}.npy", getattr(impacts, name), allow_pickle=False)
    names = {"terms": impacts.terms, "documents": [astuple(key) for key in impacts.documents]}
    (folder / "names.json").write_text(json.dumps(names, ensure_ascii=False), encoding="utf-8")


def load_impacts(folder: Path) -> Impacts:
    """Open what save_impacts wrote, memory-mapped."""
    arrays = {name: np.load(folder / f"{name}.npy", mmap_mode="r", allow_pickle=False) for name in _ARRAYS}
    names = json.loads((folder / "names.json").read_text(encoding="utf-8"))
    return Impacts(tuple(names["terms"]), **arrays, documents=tuple(DocumentKey(*key) for key in names["documents"]))
