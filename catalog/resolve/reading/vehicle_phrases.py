"""Noun phrases of vehicles: where one begins and ends, and what is known of whose it is."""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass, field

from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.reading.mention import MARKS, Mention, Mentions, Text

# What a noun phrase says of the vehicle it names.
IDENTITY = frozenset(
    ("body", "colour", "size", "doors", "name", "propulsion", "category", "years", "fuel", "roof", "marking", "rows")
)
ARTICLES = frozenset(("a", "an", "another", "one", "1", "some"))
JOINS = frozenset(("and", "plus", "versus", "vs"))
_LONGEST_PHRASE = 12
FAR, NEAR = 8, 3


@dataclass(slots=True)
class Work:
    """What is known while going through a text. of: the vehicle of each mention, by position."""

    text: Text
    mentions: Mentions
    starts: list[int]
    of: dict[int, str] = field(default_factory=dict)
    # Words that name each vehicle's body, and whether they were introduced as equals.
    named: dict[str, set[str]] = field(default_factory=lambda: {ASKED: set(), ANOTHER: set()})
    equals: bool = False
    outright: bool = False
    numbered: bool = False  # whether a "(1)" was seen
    # Where the first of two equals is described, and what speaks for either being asked about.
    first: list[int] = field(default_factory=list)
    asked: set[str] = field(default_factory=set)
    # Sentences that speak of B from where it is named.
    loose: set[int] = field(default_factory=set)

    def between(self, start: int, end: int) -> range:
        """Positions of the mentions that begin in [start, end)."""
        return range(bisect_left(self.starts, start), bisect_left(self.starts, end))

    def give(self, places: Iterable[int], vehicle: str) -> None:
        for place in places:
            self.of[place] = vehicle


def phrase_end(work: Work, start: int, said: Mention | None) -> int:
    text = work.text
    first = said.end - 1 if said is not None else start
    end = start
    while end < len(text.words) and end - start < _LONGEST_PHRASE and text.same_clause(first, end):
        if text.words[end].key in ("and", "but") and not _paint_goes_on(work, end):
            break
        end += 1
    return end


def _paint_goes_on(work: Work, at: int) -> bool:
    """ "black and white van": the "and" is inside one colour."""
    around = (work.between(max(0, at - 1), at), work.between(at + 1, at + 2))
    return all(any(work.mentions[place].attribute == "colour" for place in places) for places in around)


def take(work: Work, start: int, end: int) -> int | None:
    """Give the looks in [start, end) up to the first body to B; where that body ends, if there is one."""
    stop: int | None = None
    for place in work.between(start, end):
        mention = work.mentions[place]
        if mention.attribute in MARKS or (stop is not None and mention.start >= stop):
            if stop is not None and mention.attribute not in MARKS:
                break
            continue
        if mention.attribute not in IDENTITY:
            continue
        work.of[place] = ANOTHER
        if mention.attribute == "body":
            stop = mention.end
            work.named[ANOTHER] |= {word.key for word in work.text.words[mention.start : mention.end]}
    return stop


def phrase_start(work: Work, body: int) -> int:
    """The article, or first word of looks, of the noun phrase that a body ends."""
    words = work.text.words
    at = body
    while at > 0 and body - at < _LONGEST_PHRASE:
        if words[at].token.parted > 1:
            break
        before = words[at - 1]
        if before.token.text in ARTICLES:
            return at - 1
        looks = any(
            work.mentions[p].attribute in IDENTITY or work.mentions[p].attribute == "@hedge"
            for p in _covering(work, at - 1)
        )
        if not looks and not (work.text.small[at - 1] and before.key not in JOINS and before.key != "with"):
            return _article_before(work, at)
        at -= 1
    return at


def _article_before(work: Work, at: int) -> int:
    """The article of a phrase that holds words nobody reads: "a | tipper type | van"; else the place itself."""
    words = work.text.words
    for place in range(at - 1, max(-1, at - 1 - NEAR), -1):
        if words[place + 1].token.parted > 1 or words[place].key in JOINS or _covering(work, place):
            return at
        if words[place].token.text in ARTICLES and words[place].token.text != "one":
            return place
    return at


def _covering(work: Work, word: int) -> list[int]:
    """Positions of the mentions that cover a word."""
    last = bisect_left(work.starts, word + 1)
    return [p for p in range(max(0, last - 4), last) if work.mentions[p].end > word]
