"""Finding the words within an edit or two of a word, whatever their number.

Every word is filed under its first letters with up to two of them left out; two words within n
edits share such a form. Forms are numbers in one sorted row, a few bytes each, since an edition
has some thirty of them for every name.
"""

from array import array
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.distance import osa

# Deletions are taken from this many leading letters only; what follows is left to the distance
# itself. Seven keeps the table small and loses nothing: both sides are cut alike.
_PREFIX = 7
_LETTERS = {letter: place for place, letter in enumerate("abcdefghijklmnopqrstuvwxyz0123456789", start=1)}
_ODD = len(_LETTERS) + 1  # any other character: a form may be shared by chance, the distance decides
_BASE = _ODD + 1


class DeletionTable:
    """Distinct words, found again from a word within one or two edits of them."""

    def __init__(self, words: Iterable[str], reach: int, *, long: int = 0) -> None:
        """reach: largest distance (1 or 2). long: words shorter than this are filed for one edit only."""
        self.words = tuple(dict.fromkeys(words))
        self._reach = reach
        # form * words + number of the word; below 2 ** 53 for any edition.
        filed = array("q")
        for number, word in enumerate(self.words):
            deletions = reach if len(word) >= long else min(reach, 1)
            filed.extend(form * len(self.words) + number for form in _forms(word, deletions))
        self._filed = np.frombuffer(filed, dtype=np.int64) if filed else np.zeros(0, dtype=np.int64)
        self._filed.sort()  # in place: an edition has a quarter of a million
        self._bags = _bags(self.words)

    def within(self, word: str, limit: int) -> list[tuple[int, str]]:
        """(distance, word) of every word within `limit` edits (at most the reach), nearest first."""
        near = (self.words[number] for number in self._candidates(word, min(limit, self._reach)))
        found = [(osa(word, other, limit), other) for other in near]
        return sorted(pair for pair in found if pair[0] <= limit)

    def _candidates(self, word: str, limit: int) -> Sequence[int]:
        """Numbers of the words that share a form, and whose letters differ by no more than the edits."""
        count = len(self.words)
        forms = np.array(sorted(_forms(word, limit)), dtype=np.int64)
        starts = np.searchsorted(self._filed, forms * count).tolist()
        ends = np.searchsorted(self._filed, (forms + 1) * count).tolist()
        shared = [self._filed[start:end] for start, end in zip(starts, ends, strict=True) if start < end]
        if not shared:
            return ()
        numbers = np.unique(np.concatenate(shared) % count)
        more = self._bags[numbers].astype(np.int16) - _bags((word,))[0]
        # A change of one letter adds one and takes one away; a swap does neither.
        apart = np.maximum(np.maximum(more, 0).sum(axis=1), np.maximum(-more, 0).sum(axis=1))
        near: list[int] = numbers[apart <= limit].tolist()
        return near


def _forms(word: str, deletions: int) -> set[int]:
    """The word's first letters with up to `deletions` of them left out, as numbers."""
    edge = {tuple(_LETTERS.get(letter, _ODD) for letter in word[:_PREFIX])}
    made = set(edge)
    for _ in range(deletions):
        edge = {cut[:i] + cut[i + 1 :] for cut in edge for i in range(len(cut))}
        made |= edge
    numbers = set()
    for cut in made:
        number = 0
        for letter in cut:
            number = number * _BASE + letter
        numbers.add(number)
    return numbers


def _bags(words: Sequence[str]) -> NDArray[np.uint8]:
    """(words, letters): how often each letter is in each word, 255 standing for more."""
    made = np.zeros((len(words), _BASE), dtype=np.uint8)
    for number, word in enumerate(words):
        for letter in set(word):
            place = _LETTERS.get(letter, _ODD)
            made[number, place] = min(255, int(made[number, place]) + word.count(letter))
    return made
