"""Two vehicles in one description: whose each thing said is.

The vehicle asked about is A; another is B. "hit by a blue bus", "the other car is white" and "the one in
front" speak of B; of two described as equals ("a white van and a red estate") the first is A, unless
something says which one is asked about ("it's the estate that's electric"). Once both have a body,
"the bus" and "the van" say whose turn it is.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.reading.mention import MARKS, Mention, Mentions, Text
from catalog.resolve.reading.words import keys

# What a noun phrase says of the vehicle it names.
IDENTITY = frozenset(
    ("body", "colour", "size", "doors", "name", "propulsion", "category", "years", "fuel", "roof", "marking", "rows")
)
# What is said of the vehicle that is asked about.
_ASKED_OF = frozenset(("propulsion", "fuel", "port_place", "connector", "@port", "@asked"))
_ASKED_SCENE = frozenset(("fire", "smoke", "vapour", "hiss", "pop", "jet", "charger_attached", "converted"))
# How ours stands to another vehicle or to the caller: never said of the other one.
_OF_OURS = frozenset(
    (
        "towing",
        "on_carrier",
        "under_vehicle",
        "over_vehicle",
        "caller_inside",
        "caller_beside",
        "caller_away",
        "caller_passing",
        "coupler_carried",
    )
)
_ARTICLES = frozenset(("a", "an", "another", "one", "1", "some"))
_POINTING = frozenset(("the", "that", "this", "its"))
_OPENS = frozenset(
    ("and", "but", "so", "then", "because", "its", "it", "is", "was", "says", "though", "while", "where")
)
_JOINS = frozenset(("and", "plus", "versus", "vs"))
_SUBJECTS = frozenset(("car", "vehicle", "front", "behind"))
_LONGEST_PHRASE = 12
_TELLING = frozenset(("and", "plus", "versus", "vs", "one", "two", "both"))
# A vehicle that stands beside ours: said after it, of it alone, or of it too; or before it.
_BY_OURS = frozenset(
    tuple(f"{place} {ours}".split())
    for place in (
        "beside", "behind", "next to", "alongside", "in front of", "ahead of", "on top of", "under", "close to",
        "under front of", "under the front of", "back of", "side of", "rear of",
        "front of", "across", "opposite", "near", "against", "with", "into", "hit", "onto",
    )
    for ours in ("it", "this", "this one", "mine", "ours", "us", "him", "her", "same")
)  # fmt: skip
_BY_OURS_LENGTHS = tuple(sorted({len(said) for said in _BY_OURS}))
# "next to it stands", "behind us there is": what follows stands there.
_THERE = frozenset(("is", "was", "stands", "sits", "lies", "rests", "theres", "stood", "sat"))
_STANDS = tuple(
    said.split()
    for said in (
        "alongside", "as well", "also involved", "involved", "involved too", "is involved", "also", "too", "behind",
        "is behind", "in front", "nearby", "hit also", "is hit also", "on top", "underneath", "is also involved",
        "stopped behind", "pulled up behind", "also hit", "next door", "in it too", "caught up in it",
    )
)  # fmt: skip
_THERES = tuple(
    said.split()
    for said in (
        "theres also", "there is also", "there was also", "also theres", "too is", "also is", "also", "plus theres",
        "beside it is", "beside it stands", "beside it rests", "behind it is", "behind it stands", "and also",
    )
)  # fmt: skip
_BESIDE_WORDS = frozenset(
    ("beside", "behind", "alongside", "also", "too", "involved", "underneath", "under", "next", "front", "well", "with",
     "across", "opposite", "hit", "into", "nearby", "top")
)  # fmt: skip
_ITS = frozenset(("its", "it", "thats", "like", "be", "called", "im", "my", "as", "think", "say", "actually"))
_FAR, _NEAR = 8, 3


@dataclass(slots=True)
class _Work:
    """What is known while going through a text. of: the vehicle of each mention, by position."""

    text: Text
    mentions: Mentions
    starts: list[int]
    of: dict[int, str] = field(default_factory=dict)
    # Words that name each vehicle's body, and whether they were introduced as equals.
    named: dict[str, set[str]] = field(default_factory=lambda: {ASKED: set(), ANOTHER: set()})
    equals: bool = False
    outright: bool = False
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


def vehicles(text: Text, mentions: Mentions) -> Mentions:
    """The mentions, each with its vehicle."""
    if not mentions or not _two_spoken_of(text, mentions):
        return mentions
    work = _Work(text, mentions, [mention.start for mention in mentions])
    _beside(work)
    _equals(work)
    _stood_beside(work)
    _by_subject(work)
    swap = (work.equals or work.outright) and ANOTHER in work.asked and ASKED not in work.asked
    if swap:
        first = dict.fromkeys(work.first, ANOTHER)
        turned = {place: ASKED if vehicle == ANOTHER else ANOTHER for place, vehicle in work.of.items()}
        work.of = first | turned
    return [
        replace(mention, vehicle=work.of[place])
        if work.of.get(place, ASKED) != mention.vehicle
        and not (mention.attribute == "scene" and _OF_OURS.issuperset(mention.values))
        else mention
        for place, mention in enumerate(mentions)
    ]


def _two_spoken_of(text: Text, mentions: Sequence[Mention]) -> bool:
    """Most descriptions are of one vehicle: two bodies, or a word for another one."""
    if any(mention.attribute in ("@elsewhere", "@other") for mention in mentions):
        return True
    bodies = {mention.start for mention in mentions if mention.attribute == "body"}
    if not bodies:
        return False
    said = {word.token.text for word in text.words}
    return bool(said & _BESIDE_WORDS) or (len(bodies) > 1 and bool(said & _TELLING))


def _beside(work: _Work) -> None:
    """ "hit by a blue bus": the looks that follow are the other vehicle's, up to its body."""
    for said in work.mentions:
        if said.attribute != "@elsewhere":
            continue
        work.first += [
            p for p in work.between(max(0, said.start - 20), said.start) if work.mentions[p].attribute in IDENTITY
        ][-6:]
        start, end = said.end, _phrase_end(work, said.end, said)
        body = _take(work, start, end)
        if body is None and not any(work.of.get(p) == ANOTHER for p in work.between(start, end)):
            # "hit by another car, a red estate": the next clause tells which.
            after = work.text.clause_end(said.end - 1)
            generic = any(word.key in keys("vehicle") for word in work.text.words[said.start : after][:8])
            if generic and _begins_phrase(work, after) and work.text.same_sentence(said.start, after):
                _take(work, after, _phrase_end(work, after, None))
        elif body is not None:
            _more_of_them(work, body)
            _a_red_one(work, body)


def _phrase_end(work: _Work, start: int, said: Mention | None) -> int:
    text = work.text
    first = said.end - 1 if said is not None else start
    end = start
    while end < len(text.words) and end - start < _LONGEST_PHRASE and text.same_clause(first, end):
        if text.words[end].key in ("and", "but") and not _paint_goes_on(work, end):
            break
        end += 1
    return end


def _paint_goes_on(work: _Work, at: int) -> bool:
    """ "black and white van": the "and" is inside one colour."""
    around = (work.between(max(0, at - 1), at), work.between(at + 1, at + 2))
    return all(any(work.mentions[place].attribute == "colour" for place in places) for places in around)


def _take(work: _Work, start: int, end: int) -> int | None:
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


def _more_of_them(work: _Work, at: int) -> None:
    """ "between a bus and a lorry", "hit a van and a red hatch": each is another vehicle."""
    words = work.text.words
    while at + 1 < len(words) and words[at].key == "and" and words[at + 1].token.text in _ARTICLES:
        end = _phrase_end(work, at + 1, None)
        after = _take(work, at + 1, end)
        if after is None:
            return
        at = after


def _a_red_one(work: _Work, at: int) -> None:
    """ "hit by a lorry, a big red one": the next clause says more of it."""
    start = work.text.clause_end(at - 1)
    words = work.text.words
    if start >= len(words) or words[start].token.text not in _ARTICLES or not work.text.same_sentence(at - 1, start):
        return
    end = work.text.clause_end(start)
    if words[end - 1].key == "one":
        work.give((p for p in work.between(start, end) if work.mentions[p].attribute in IDENTITY), ANOTHER)


def _begins_phrase(work: _Work, at: int) -> bool:
    words = work.text.words
    if at >= len(words):
        return False
    if words[at].token.text in _ARTICLES:
        return True
    return any(work.mentions[place].attribute in ("colour", "size", "body") for place in work.between(at, at + 1))


def _equals(work: _Work) -> None:
    """ "a white van and a red estate", "one white van, one red estate"."""
    bodies = [p for p, m in enumerate(work.mentions) if m.attribute == "body" and p not in work.of]
    words = work.text.words
    counted = any(
        word.key in ("two", "both", "2") and at + 1 < len(words) and words[at + 1].key in keys("vehicle")
        for at, word in enumerate(words)
    )
    for one, other in pairwise(bodies):
        first, second = work.mentions[one], work.mentions[other]
        if first.start == second.start or set(first.values) & set(second.values):
            continue
        opens = _phrase_start(work, second.start)
        article = words[opens].token.text if opens < second.start else ""
        before = words[opens - 1].key if opens > 0 else ""
        listed = words[opens].token.parted > 1 and opens >= first.end
        joined = before in _JOINS and article in _ARTICLES
        if not (joined or (listed and article in _ARTICLES and (counted or _counts(work, first, article)))):
            continue
        if not work.text.same_sentence(first.start, second.start) or _owned_between(work, first.end, opens):
            continue
        work.equals = True
        work.first = [*work.between(_phrase_start(work, first.start), first.end)]
        work.named[ASKED] |= {word.key for word in words[first.start : first.end]}
        _take(work, opens, second.end)
        return


def _stood_beside(work: _Work) -> None:
    """ "a black pickup stopped right behind it", "beside it a yellow hatch", "a silver van is involved too"."""
    words = work.text.words
    bodies = [p for p, m in enumerate(work.mentions) if m.attribute == "body" and p not in work.of]
    for place in bodies:
        body = work.mentions[place]
        opens = _phrase_start(work, body.start)
        start, end = work.text.clause_start(opens), work.text.clause_end(body.start)
        before = [word.token.text for word in words[max(start, opens - _FAR) : opens]]
        if words[opens].token.text in ("the", "this", "that") or (before and before[-1] in _ITS):
            continue
        after = [word.token.text for word in words[body.end : min(end, body.end + _FAR)]]
        stop = next((at for at, word in enumerate(after) if word in ("and", "but", "which")), len(after))
        beside = _says(after[:stop]) or _ends_saying(before)
        known = _is_known(work, opens)
        stands = known and (
            any(_stands(after[:stop], said) for said in _STANDS) or any(_ends(before, said) for said in _THERES)
        )
        ours = len(before) > 2 and before[-1] in _THERE and _ends_saying(before[:-1])
        if not (beside and (known or not before)) and not stands and not ours:
            continue
        _take(work, opens, body.end)
        work.loose.add(work.text.clauses.sentence[opens])


def _says(said: Sequence[str]) -> bool:
    """Whether one of `_BY_OURS` stands anywhere in these words."""
    return any(_ends_saying(said[:end]) for end in range(2, len(said) + 1))


def _ends_saying(said: Sequence[str]) -> bool:
    """Whether these words end in one of `_BY_OURS`."""
    return any(tuple(said[-count:]) in _BY_OURS for count in _BY_OURS_LENGTHS if count <= len(said))


def _ends(said: Sequence[str], part: Sequence[str]) -> bool:
    return list(said[-len(part) :]) == part


def _stands(said: Sequence[str], part: Sequence[str]) -> bool:
    """Said at the end of the clause, or right after the body."""
    return _ends(said, part) or (list(said[: len(part)]) == part and len(part) > 1)


def _is_known(work: _Work, before: int) -> bool:
    """Whether ours has been described before these words: its body, its name."""
    return any(
        m.attribute in ("body", "name", "colour", "years") and work.of.get(p, ASKED) == ASKED
        for p in work.between(0, before)
        if (m := work.mentions[p])
    )


def _counts(work: _Work, first: Mention, article: str) -> bool:
    """ "one white van, one red estate"."""
    opens = _phrase_start(work, first.start)
    return article in ("one", "1", "another") and work.text.words[opens].token.text in ("one", "1", "a", "an")


def _phrase_start(work: _Work, body: int) -> int:
    """The article, or first word of looks, of the noun phrase that a body ends."""
    words = work.text.words
    at = body
    while at > 0 and body - at < _LONGEST_PHRASE:
        if words[at].token.parted > 1:
            break
        before = words[at - 1]
        if before.token.text in _ARTICLES:
            return at - 1
        looks = any(
            work.mentions[p].attribute in IDENTITY or work.mentions[p].attribute == "@hedge"
            for p in _covering(work, at - 1)
        )
        if not looks and not (work.text.small[at - 1] and before.key not in _JOINS and before.key != "with"):
            return _article_before(work, at)
        at -= 1
    return at


def _article_before(work: _Work, at: int) -> int:
    """The article of a phrase that holds words nobody reads: "a | tipper type | van"; else the place itself."""
    words = work.text.words
    for place in range(at - 1, max(-1, at - 1 - _NEAR), -1):
        if words[place + 1].token.parted > 1 or words[place].key in _JOINS or _covering(work, place):
            return at
        if words[place].token.text in _ARTICLES and words[place].token.text != "one":
            return place
    return at


def _covering(work: _Work, word: int) -> list[int]:
    """Positions of the mentions that cover a word."""
    last = bisect_left(work.starts, word + 1)
    return [p for p in range(max(0, last - 4), last) if work.mentions[p].end > word]


def _owned_between(work: _Work, start: int, end: int) -> bool:
    """ "a van with a port at the back and a tray": something of the first stands between."""
    return any(work.mentions[p].attribute == "@port" for p in work.between(start, end))


def _by_subject(work: _Work) -> None:
    """Clause by clause: "the other car is white", "the bus is on fire", "ours is red"."""
    text, words = work.text, work.text.words
    turn, sentence, start = ASKED, 0, 0
    loose = False  # whether the sentence is about B as long as it tells what B looks like
    seen = _first_words(work)
    while start < len(words):
        end = text.clause_end(start)
        if text.clauses.sentence[start] != sentence:
            turn, sentence, loose = ASKED, text.clauses.sentence[start], False
        said, at = _subject(work, start, end)
        if said:
            turn = said
            loose = said == ANOTHER and at - start < _NEAR
        elif turn == ANOTHER and not _goes_on(work, start, end, seen, loose):
            turn = ASKED
        elif sentence in work.loose and _only_looks(work, start, end) and _last_is_another(work, start):
            turn, loose = ANOTHER, True
        places = work.between(max(start, at), end)
        if turn == ANOTHER or said:
            free = [p for p in places if p not in work.of or said]
            work.give(free, turn)
            if said and any(_is_asked_of(work.mentions[p]) for p in places):
                work.asked.add(said)
            if said == ANOTHER and any(work.mentions[p].attribute == "@asked" for p in places):
                work.outright = True
        if turn == ANOTHER:
            for p in places:
                mention = work.mentions[p]
                if mention.attribute == "body":
                    work.named[ANOTHER] |= {word.key for word in words[mention.start : mention.end]}
        start = end


def _first_words(work: _Work) -> set[str]:
    """What is already said of A, by attribute; and the words of its body."""
    seen: set[str] = set()
    for place, mention in enumerate(work.mentions):
        if work.of.get(place, ASKED) == ASKED and mention.attribute in IDENTITY:
            seen.add(mention.attribute)
            named = {word.key for word in work.text.words[mention.start : mention.end]}
            again = mention.start > 0 and work.text.words[mention.start - 1].token.text in _POINTING
            if mention.attribute == "body" and not work.equals and not (again and named & work.named[ANOTHER]):
                work.named[ASKED] |= named
    return seen


def _subject(work: _Work, start: int, end: int) -> tuple[str, int]:
    """(vehicle a clause is about, from which word), ("", start) where it does not say."""
    words = work.text.words
    for place in work.between(start, end):
        mention = work.mentions[place]
        if mention.attribute == "@other" and not _is_port(work, start, end):
            return ANOTHER, mention.start
        if mention.attribute == "@ours":
            return ASKED, mention.start
        subject = mention.attribute == "@elsewhere" and words[mention.end - 1].key in _SUBJECTS
        if subject and work.text.only_small(start, mention.start):
            return ANOTHER, mention.start
    at = start
    while at < end and (words[at].key in _OPENS or words[at].token.text in ("it", "is")):
        at += 1
    pointed = at < end and words[at].token.text in _POINTING
    at += pointed
    if at < end and (pointed or at == start):
        only_b = work.named[ANOTHER] - work.named[ASKED]
        only_a = work.named[ASKED] - work.named[ANOTHER]
        noun = _noun(work, at, end)
        if noun in only_b:
            return ANOTHER, start
        if noun in only_a and work.named[ANOTHER] and pointed:
            return ASKED, start
    return "", start


def _noun(work: _Work, at: int, end: int) -> str:
    """The body word a phrase comes to, past its looks: "the red estate"."""
    words = work.text.words
    for place in work.between(at, min(end, at + 4)):
        mention = work.mentions[place]
        if mention.attribute == "body":
            return words[mention.start].key if work.text.only_small(at, at) and mention.end - at <= 4 else ""
        if mention.attribute not in IDENTITY:
            break
    return words[at].key


def _is_port(work: _Work, start: int, end: int) -> bool:
    """ "the other one is at the back" may be a second port."""
    said = {work.mentions[place].attribute for place in work.between(start, end)}
    return "@another" in said and ("@port" in said or not said & IDENTITY)


def _goes_on(work: _Work, start: int, end: int, seen: set[str], loose: bool) -> bool:
    """A clause after one about B that only gives looks A already has: "the other car's red, an estate"."""
    said = {m.attribute for p in work.between(start, end) if (m := work.mentions[p]).attribute not in MARKS}
    return bool(said) and said <= IDENTITY and (loose or bool(said & seen))


def _only_looks(work: _Work, start: int, end: int) -> bool:
    said = {m.attribute for p in work.between(start, end) if (m := work.mentions[p]).attribute not in MARKS}
    return bool(said) and said <= IDENTITY


def _last_is_another(work: _Work, start: int) -> bool:
    """Whether the last body named before a clause is B's."""
    named = [p for p in work.between(0, start) if work.mentions[p].attribute == "body"]
    return bool(named) and work.of.get(named[-1]) == ANOTHER


def _is_asked_of(mention: Mention) -> bool:
    return mention.attribute in _ASKED_OF or (mention.attribute == "scene" and bool(_ASKED_SCENE & set(mention.values)))
