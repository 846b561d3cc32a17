"""What the conditions of the phrase table, and all who read word by word, may look at: words with what begins there."""

from collections import Counter
from collections.abc import Sequence, Set
from dataclasses import dataclass
from functools import cached_property

from catalog.resolve.reading.phrases import Meaning
from catalog.resolve.reading.tokens import PAUSE
from catalog.resolve.reading.words import Word, common_words, exactly, keys

BODY = frozenset(("body", "category"))
LOOKS = frozenset(("colour", "propulsion", "fuel", "size", "doors"))

FAR = 30  # words: no step looks farther
Ends = Sequence[tuple[int, Sequence[Meaning]]]


def writes_capitals(words: Sequence[Word]) -> bool:
    """Whether some word inside a sentence begins with a capital, and most do not."""
    inside = [word.token for word in words if word.token.parted < PAUSE and word.token.text.isalpha()]
    capital = sum(token.capital for token in inside)
    return capital > 0 and 2 * capital < len(inside)


@dataclass(frozen=True, eq=False)
class Scan:
    """What conditions may look at. ends: for each word, the sayings that begin there, longest first. text: as given.
    cased: whether it writes names with capitals. side: the side traffic keeps to.
    """

    words: Sequence[Word]
    ends: Sequence[Ends]
    text: str = ""
    cased: bool = False
    side: str = "left"

    @cached_property
    def _said(self) -> Counter[str]:
        """How often each looked-up form is said."""
        return Counter(word.key for word in self.words)

    @cached_property
    def charged(self) -> bool:
        """A charge port is spoken of somewhere in the text."""
        return self.anywhere(exactly("port_words"))

    def anywhere(self, among: Set[str]) -> bool:
        """Whether one of these looked-up forms is said somewhere in the text."""
        return not among.isdisjoint(self._said)

    def outside(self, start: int, end: int, among: Set[str]) -> bool:
        """Whether one of these is said outside the words [start, end)."""
        inside = sum(word.key in among for word in self.words[start:end])
        return sum(self._said[key] for key in among) > inside

    def next(self, at: int) -> str:
        """The word at a position if no comma or stop parts it from the one before, else ""."""
        return "" if at >= len(self.words) or self.words[at].token.parted >= PAUSE else self.words[at].token.text

    def key(self, at: int) -> str:
        """The looked-up form at a position, under the terms of `next`."""
        return "" if at >= len(self.words) or self.words[at].token.parted >= PAUSE else self.words[at].key

    def before(self, at: int) -> str:
        """The word before a position if nothing parts the two, else ""."""
        return "" if at <= 0 or self.words[at].token.parted >= PAUSE else self.words[at - 1].token.text

    def signs(self, at: int) -> tuple[str, str]:
        """The sign written right before a word and the two right after it."""
        token = self.words[at].token
        return self.text[max(0, token.start - 1) : token.start], self.text[token.end : token.end + 2]

    def clause(self, start: int, end: int) -> tuple[int, int]:
        """The comma clause round [start, end), at most so many words either way."""
        first, last = max(0, start - FAR), min(len(self.words), end + FAR)
        while start > first and self.before(start):
            start -= 1
        while end < last and self.next(end):
            end += 1
        return start, end

    def says(self, at: int, attributes: frozenset[str]) -> bool:
        """Whether a saying of one of these attributes may begin here."""
        return bool(self.key(at)) and any(
            meaning.attribute in attributes for _, meanings in self.ends[at] for meaning in meanings
        )

    def is_vehicle(self, at: int) -> bool:
        """A body style or "car", "vehicle" stands here."""
        return self.says(at, BODY) or self.key(at) in keys("vehicle")

    def past_looks(self, at: int) -> int:
        """The next position that says no colour, drive, size or name: "white 4 door Velor | van"."""
        while self.key(at) and not self.is_vehicle(at):
            if not (self.says(at, LOOKS) or self.key(at).isdigit() or self.key(at) not in common_words()):
                break
            at += 1
        return at
