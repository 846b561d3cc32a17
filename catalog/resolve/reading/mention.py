"""A mention: one recognised stretch of words, before and after modifiers have been applied."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from catalog.resolve.cue import ASKED, Doubt
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import Word

DOUBTS = (Doubt.FIRM, Doubt.HEDGED, Doubt.GUESS)
LINKS = frozenset(("and", "but", "with", "then", "while", "which", "because", "also", "plus", "whose", "having"))
# Roles that say something about other mentions; denial, doubt and correction pass over them.
MARKS = frozenset(
    (
        "@hedge", "@not", "@or", "@fix", "@view", "@trap", "@elsewhere", "@badge", "@yes", "@small",
        "@other", "@ours", "@asked", "@than", "@unknown",
    )
)  # fmt: skip
_PLACES = frozenset(("@side", "@end", "@landmark", "@level"))
NEXT = 4  # how many mentions after "or", "not" or a comparison may be the one it is about
Range = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Mention:
    """Words [start, end) taken as an attribute of a cue, or as a role ("@side", "@hedge").

    also: further word ranges that belong to it (a denial, what it corrects).
    weak: dropped where the same attribute is said outright. apart: never merged with others.
    """

    attribute: str
    values: tuple[str, ...]
    start: int
    end: int
    doubt: Doubt = Doubt.FIRM
    denied: bool = False
    weak: bool = False
    apart: bool = False
    also: tuple[Range, ...] = ()
    viewpoint: str = ""
    vehicle: str = ASKED

    @property
    def is_role(self) -> bool:
        return self.attribute.startswith("@")

    @property
    def ranges(self) -> tuple[Range, ...]:
        return ((self.start, self.end), *self.also)

    def with_ranges(self, ranges: Iterable[Range]) -> "Mention":
        added = tuple(ranges)
        return replace(self, also=(*self.also, *added)) if added else self

    def doubted(self, doubt: Doubt) -> "Mention":
        """At least this doubtful."""
        worst = most_doubtful((self.doubt, doubt))
        return self if worst is self.doubt else replace(self, doubt=worst)


Mentions = list[Mention]


def firmest(doubts: Iterable[Doubt]) -> Doubt:
    return min(doubts, key=DOUBTS.index)


def most_doubtful(doubts: Iterable[Doubt]) -> Doubt:
    return max(doubts, key=DOUBTS.index)


def is_place(mention: Mention) -> bool:
    return mention.attribute in _PLACES


def in_order(mentions: Iterable[Mention]) -> Mentions:
    """By place; of two at one place the order they came in."""
    return sorted(mentions, key=lambda mention: (mention.start, mention.end))


@dataclass(frozen=True, slots=True)
class Clauses:
    """For each word: its sentence, its comma clause, and its part (clauses cut at "and", "but"...)."""

    sentence: list[int]
    clause: list[int]
    part: list[int]

    @classmethod
    def of(cls, words: Sequence[Word]) -> "Clauses":
        sentence: list[int] = []
        clause: list[int] = []
        part: list[int] = []
        stops = pauses = cuts = -1
        for word in words:
            parted = word.token.parted
            if parted >= PAUSE:
                stops += parted == STOP
                pauses += 1
                cuts += 1
            elif word.key in LINKS:
                cuts += 1
            sentence.append(stops)
            clause.append(pauses)
            part.append(cuts)
        return cls(sentence, clause, part)


@dataclass(frozen=True, eq=False)
class Text:
    """The words of a text, its clauses, and which words are small ones."""

    words: Sequence[Word]
    clauses: Clauses
    small: Sequence[bool]

    @cached_property
    def _large(self) -> list[int]:
        """How many words before each position are not small."""
        made = [0]
        for small in self.small:
            made.append(made[-1] + (not small))
        return made

    def only_small(self, start: int, end: int) -> bool:
        """Whether only small words stand in [start, end)."""
        return start >= end or self._large[start] == self._large[end]

    def same_clause(self, one: int, other: int) -> bool:
        return self.clauses.clause[one] == self.clauses.clause[other]

    def same_sentence(self, one: int, other: int) -> bool:
        return self.clauses.sentence[one] == self.clauses.sentence[other]

    def clause_start(self, at: int) -> int:
        """The first word of the clause of a word."""
        return bisect_left(self.clauses.clause, self.clauses.clause[at])

    def clause_end(self, at: int) -> int:
        """One past the last word of the clause of a word."""
        return bisect_left(self.clauses.clause, self.clauses.clause[at] + 1)

    def sentence_end(self, at: int) -> int:
        """One past the last word of the sentence of a word."""
        return bisect_left(self.clauses.sentence, self.clauses.sentence[at] + 1)


class Open:
    """The mentions that denial, doubt and correction may touch, found by place.

    at: their positions in the list. starts: where they begin, for looking up by bisection.
    """

    def __init__(self, mentions: Sequence[Mention]) -> None:
        self.at = [place for place, mention in enumerate(mentions) if mention.attribute not in MARKS]
        self.starts = [mentions[place].start for place in self.at]

    def from_(self, word: int) -> int:
        """Position in `at` of the first that begins at a word or after it."""
        return bisect_left(self.starts, word)
