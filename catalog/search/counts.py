"""How often each word stands in each note, as plain arrays: what scores are made from.

A word's score depends on every note of the index, its counts only on its own; so counts are kept,
and an index of which a little changed counts the new notes only.
"""

from array import array
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

# The words of each field of one note, in reading order.
Words = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True, eq=False)
class Counts:
    """Words by notes. terms: T, sorted. term, docs: (n,) int32, which word in which note, ordered by both.

    times: (n, F) int32, how often in each of the F fields. lengths: (D, F) int32, words per note and field.
    """

    terms: tuple[str, ...]
    term: NDArray[np.int32]
    docs: NDArray[np.int32]
    times: NDArray[np.int32]
    lengths: NDArray[np.int32]


def count(notes: Iterable[Words], fields: int) -> Counts:
    """Count every note, read once. fields: how many each has."""
    numbers: dict[str, int] = {}
    term, docs, times, lengths = (array("i") for _ in range(4))
    for doc, note in enumerate(notes):
        counted = [Counter(words) for words in note]
        for word in dict.fromkeys(word for words in note for word in words):
            term.append(numbers.setdefault(word, len(numbers)))
            docs.append(doc)
            times.extend(words[word] for words in counted)
        lengths.extend(len(words) for words in note)
    terms = tuple(sorted(numbers))
    rank = np.zeros(len(terms), dtype=np.int32)
    rank[[numbers[word] for word in terms]] = np.arange(len(terms), dtype=np.int32)
    shaped = np.frombuffer(times, dtype=np.int32).reshape(-1, fields)
    made = np.frombuffer(lengths, dtype=np.int32).reshape(-1, fields)
    return _ordered(terms, rank[np.frombuffer(term, dtype=np.int32)], np.frombuffer(docs, dtype=np.int32), shaped, made)


def joined(old: Counts, places: NDArray[np.int32], new: Counts, new_places: NDArray[np.int32]) -> Counts:
    """The counts of notes taken from two. places: where each old note now stands, -1 where it is gone.

    Equal to having counted the notes afresh.
    """
    stays = places[old.docs] >= 0
    terms = tuple(sorted({old.terms[number] for number in np.unique(old.term[stays]).tolist()} | set(new.terms)))
    rank = {word: number for number, word in enumerate(terms)}
    of_old = np.array([rank.get(word, -1) for word in old.terms], dtype=np.int32)
    of_new = np.array([rank[word] for word in new.terms], dtype=np.int32)
    lengths = np.zeros((int((places >= 0).sum()) + len(new_places), old.lengths.shape[1]), dtype=np.int32)
    lengths[places[places >= 0]] = old.lengths[places >= 0]
    lengths[new_places] = new.lengths
    return _ordered(
        terms,
        np.concatenate((of_old[old.term[stays]], of_new[new.term])),
        np.concatenate((places[old.docs[stays]], new_places[new.docs])),
        np.concatenate((old.times[stays], new.times)),
        lengths,
    )


def _ordered(
    terms: tuple[str, ...], term: NDArray[Any], docs: NDArray[Any], times: NDArray[Any], lengths: NDArray[Any]
) -> Counts:
    order = np.argsort(term.astype(np.int64) * len(lengths) + docs, kind="stable")
    return Counts(terms, term[order], docs[order], times[order], lengths)
