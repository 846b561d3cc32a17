"""A mention: one recognised stretch of words, before and after modifiers have been applied."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from catalog.resolve.cue import Doubt
from catalog.resolve.tokens import PAUSE, STOP
from catalog.resolve.words import Word

DOUBTS = (Doubt.FIRM, Doubt.HEDGED, Doubt.GUESS)
LINKS = frozenset(("and", "but", "with", "then", "while", "which", "because", "also", "plus", "whose", "having"))
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

    @property
    def is_role(self) -> bool:
        return self.attribute.startswith("@")

    @property
    def ranges(self) -> tuple[Range, ...]:
        return ((self.start, self.end), *self.also)

    def with_ranges(self, ranges: Iterable[Range]) -> "Mention":
        return replace(self, also=(*self.also, *ranges))

    def doubted(self, doubt: Doubt) -> "Mention":
        """At least this doubtful."""
        return replace(self, doubt=most_doubtful((self.doubt, doubt)))


def firmest(doubts: Iterable[Doubt]) -> Doubt:
    return min(doubts, key=DOUBTS.index)


def most_doubtful(doubts: Iterable[Doubt]) -> Doubt:
    return max(doubts, key=DOUBTS.index)


@dataclass(frozen=True, slots=True)
class Clauses:
    """For each word: its sentence, its comma clause, and its part (clauses cut at "and", "but"...)."""

    sentence: tuple[int, ...]
    clause: tuple[int, ...]
    part: tuple[int, ...]

    @classmethod
    def of(cls, words: Sequence[Word]) -> "Clauses":
        sentence, clause, part = [], [], []
        at = [-1, -1, -1]
        for word in words:
            at[0] += word.token.parted == STOP
            at[1] += word.token.parted >= PAUSE
            at[2] += word.token.parted >= PAUSE or word.key in LINKS
            sentence.append(at[0])
            clause.append(at[1])
            part.append(at[2])
        return cls(tuple(sentence), tuple(clause), tuple(part))


@dataclass(frozen=True, slots=True)
class Text:
    """The words of a text, its clauses, and which words are small ones."""

    words: Sequence[Word]
    clauses: Clauses
    small: Sequence[bool]

    def only_small(self, start: int, end: int) -> bool:
        """Whether only small words stand in [start, end)."""
        return all(self.small[start:end])

    def same_clause(self, one: int, other: int) -> bool:
        return self.clauses.clause[one] == self.clauses.clause[other]

    def same_sentence(self, one: int, other: int) -> bool:
        return self.clauses.sentence[one] == self.clauses.sentence[other]
