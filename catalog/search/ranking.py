"""Impacts -> scores per document. Plain sums over the rows of a query's terms."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from catalog.search.port import Impacts
from catalog.search.queries import Query

SHORTEST_PREFIX = 2


@dataclass(frozen=True, slots=True)
class Ranked:
    """documents: numbers, best first, equal scores in document order. scores: beside them.
    terms: what to highlight."""

    documents: NDArray[np.int64]
    scores: NDArray[np.float64]
    terms: frozenset[str]


def rank(impacts: Impacts, query: Query, holders: Callable[[tuple[str, ...]], list[int]]) -> Ranked:
    """Score every document. holders(phrase): the documents that have the words side by side."""
    scores = np.zeros(len(impacts.documents))
    terms: set[str] = set()
    for term in query.terms:
        docs, row = impacts.row(term)
        if docs.size:
            scores[docs] += row
            terms.add(term)
        elif term == query.unfinished and len(term) >= SHORTEST_PREFIX:
            terms.update(_complete(impacts, term, scores))
    for phrase in query.phrases:
        kept = np.zeros(len(scores), dtype=bool)
        kept[holders(phrase)] = True
        scores[~kept] = 0.0
    found = np.flatnonzero(scores)
    best = found[np.lexsort((found, -scores[found]))]
    return Ranked(best, scores[best], frozenset(terms))


def _complete(impacts: Impacts, prefix: str, scores: NDArray[np.float64]) -> tuple[str, ...]:
    """Add, per document, the best of the terms the unfinished word may become."""
    terms = impacts.beginning(prefix)
    best = np.zeros(len(scores))
    for term in terms:
        docs, row = impacts.row(term)
        best[docs] = np.maximum(best[docs], row)
    scores += best
    return terms
