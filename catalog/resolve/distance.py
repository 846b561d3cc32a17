"""Edit distance between two words, and finding words within it fast.

Optimal string alignment: insertion, deletion, substitution and the swap of two neighbours
cost one each, and no part of a word is edited twice.
"""

from collections.abc import Iterable

# Deletions are taken from this many leading letters only; what follows is left to the distance
# itself. Seven keeps the table small and loses nothing: both sides are cut alike.
_PREFIX = 7


def osa(a: str, b: str, limit: int) -> int:
    """Optimal string alignment distance, or limit + 1 as soon as it must be larger."""
    if a == b:
        return 0
    if abs(len(a) - len(b)) > limit:
        return limit + 1
    a, b = _without_shared_ends(a, b)
    if not a or not b:
        return min(len(a) + len(b), limit + 1)
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i in range(1, len(a) + 1):
        row = [i] * (len(b) + 1)
        best = i
        for j in range(1, len(b) + 1):
            cost = last[j - 1] if a[i - 1] == b[j - 1] else 1 + min(last[j - 1], last[j], row[j - 1])
            if i > 1 and j > 1 and a[i - 1] == b[j - 2] and a[i - 2] == b[j - 1]:
                cost = min(cost, before[j - 2] + 1)
            row[j] = cost
            best = min(best, cost)
        if best > limit:
            return limit + 1
        before, last = last, row
    return min(last[len(b)], limit + 1)


def _without_shared_ends(a: str, b: str) -> tuple[str, str]:
    """What is left once the letters both begin and end with are taken off; the distance stays the same."""
    shortest = min(len(a), len(b))
    start = 0
    while start < shortest and a[start] == b[start]:
        start += 1
    end = 0
    while end < shortest - start and a[-1 - end] == b[-1 - end]:
        end += 1
    return a[start : len(a) - end], b[start : len(b) - end]


def _cuts(word: str, deletions: int) -> set[str]:
    """The word's first letters with up to `deletions` of them left out."""
    made = {word[:_PREFIX]}
    edge = made
    for _ in range(deletions):
        edge = {cut[:i] + cut[i + 1 :] for cut in edge for i in range(len(cut))}
        made = made | edge
    return made


class DeletionTable:
    """Distinct words, found again from a word within one or two edits of them.

    Every word is filed under itself with letters left out; two words within n edits share such
    a form, so a look-up touches a few dozen entries whatever the number of words.
    """

    def __init__(self, words: Iterable[str], reach: int, *, long: int = 0) -> None:
        """reach: largest distance (1 or 2). long: words shorter than this are filed for one edit only."""
        self.words = tuple(dict.fromkeys(words))
        self._reach = reach
        self._long = long
        self._filed: dict[str, list[int]] = {}
        for number, word in enumerate(self.words):
            for cut in _cuts(word, self._deletions(word)):
                self._filed.setdefault(cut, []).append(number)

    def _deletions(self, word: str) -> int:
        return self._reach if len(word) >= self._long else min(self._reach, 1)

    def within(self, word: str, limit: int) -> list[tuple[int, str]]:
        """(distance, word) of every word within `limit` edits (at most the reach), nearest first."""
        seen: set[int] = set()
        for cut in _cuts(word, min(limit, self._reach)):
            seen.update(self._filed.get(cut, ()))
        found = [(osa(word, self.words[number], limit), self.words[number]) for number in seen]
        return sorted(pair for pair in found if pair[0] <= limit)
