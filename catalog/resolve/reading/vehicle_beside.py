"""Vehicles named beside ours: "hit by a blue bus", "a white van and a red estate", "beside it a yellow hatch"."""

from collections.abc import Sequence
from itertools import pairwise

from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.vehicle_phrases import ARTICLES, FAR, IDENTITY, JOINS, Work, phrase_end, phrase_start, take
from catalog.resolve.reading.words import keys

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
_ITS = frozenset(("its", "it", "thats", "like", "be", "called", "im", "my", "as", "think", "say", "actually"))


def beside(work: Work) -> None:
    """ "hit by a blue bus": the looks that follow are the other vehicle's, up to its body."""
    for said in work.mentions:
        if said.attribute != "@elsewhere":
            continue
        work.first += [
            p for p in work.between(max(0, said.start - 20), said.start) if work.mentions[p].attribute in IDENTITY
        ][-6:]
        start, end = said.end, phrase_end(work, said.end, said)
        body = take(work, start, end)
        if body is None and not any(work.of.get(p) == ANOTHER for p in work.between(start, end)):
            # "hit by another car, a red estate": the next clause tells which.
            after = work.text.clause_end(said.end - 1)
            generic = any(word.key in keys("vehicle") for word in work.text.words[said.start : after][:8])
            if generic and _begins_phrase(work, after) and work.text.same_sentence(said.start, after):
                take(work, after, phrase_end(work, after, None))
        elif body is not None:
            _more_of_them(work, body)
            _a_red_one(work, body)


def _more_of_them(work: Work, at: int) -> None:
    """ "between a bus and a lorry", "hit a van and a red hatch": each is another vehicle."""
    words = work.text.words
    while at + 1 < len(words) and words[at].key == "and" and words[at + 1].token.text in ARTICLES:
        end = phrase_end(work, at + 1, None)
        after = take(work, at + 1, end)
        if after is None:
            return
        at = after


def _a_red_one(work: Work, at: int) -> None:
    """ "hit by a lorry, a big red one": the next clause says more of it."""
    start = work.text.clause_end(at - 1)
    words = work.text.words
    if start >= len(words) or words[start].token.text not in ARTICLES or not work.text.same_sentence(at - 1, start):
        return
    end = work.text.clause_end(start)
    if words[end - 1].key == "one":
        work.give((p for p in work.between(start, end) if work.mentions[p].attribute in IDENTITY), ANOTHER)


def _begins_phrase(work: Work, at: int) -> bool:
    words = work.text.words
    if at >= len(words):
        return False
    if words[at].token.text in ARTICLES:
        return True
    return any(work.mentions[place].attribute in ("colour", "size", "body") for place in work.between(at, at + 1))


def equals(work: Work) -> None:
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
        opens = phrase_start(work, second.start)
        article = words[opens].token.text if opens < second.start else ""
        before = words[opens - 1].key if opens > 0 else ""
        listed = words[opens].token.parted > 1 and opens >= first.end
        joined = before in JOINS and article in ARTICLES
        if not (joined or (listed and article in ARTICLES and (counted or _counts(work, first, article)))):
            continue
        if not work.text.same_sentence(first.start, second.start) or _owned_between(work, first.end, opens):
            continue
        work.equals = True
        work.first = [*work.between(phrase_start(work, first.start), first.end)]
        work.named[ASKED] |= {word.key for word in words[first.start : first.end]}
        take(work, opens, second.end)
        return


def stood_beside(work: Work) -> None:
    """ "a black pickup stopped right behind it", "beside it a yellow hatch", "a silver van is involved too"."""
    words = work.text.words
    bodies = [p for p, m in enumerate(work.mentions) if m.attribute == "body" and p not in work.of]
    for place in bodies:
        body = work.mentions[place]
        opens = phrase_start(work, body.start)
        start, end = work.text.clause_start(opens), work.text.clause_end(body.start)
        before = [word.token.text for word in words[max(start, opens - FAR) : opens]]
        if words[opens].token.text in ("the", "this", "that") or (before and before[-1] in _ITS):
            continue
        after = [word.token.text for word in words[body.end : min(end, body.end + FAR)]]
        stop = next((at for at, word in enumerate(after) if word in ("and", "but", "which")), len(after))
        beside = _says(after[:stop]) or _ends_saying(before)
        known = _is_known(work, opens)
        stands = known and (
            any(_stands(after[:stop], said) for said in _STANDS) or any(_ends(before, said) for said in _THERES)
        )
        ours = len(before) > 2 and before[-1] in _THERE and _ends_saying(before[:-1])
        if not (beside and (known or not before)) and not stands and not ours:
            continue
        take(work, opens, body.end)
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


def _is_known(work: Work, before: int) -> bool:
    """Whether ours has been described before these words: its body, its name."""
    return any(
        m.attribute in ("body", "name", "colour", "years") and work.of.get(p, ASKED) == ASKED
        for p in work.between(0, before)
        if (m := work.mentions[p])
    )


def _counts(work: Work, first: Mention, article: str) -> bool:
    """ "one white van, one red estate"."""
    opens = phrase_start(work, first.start)
    return article in ("one", "1", "another") and work.text.words[opens].token.text in ("one", "1", "a", "an")


def _owned_between(work: Work, start: int, end: int) -> bool:
    """ "a van with a port at the back and a tray": something of the first stands between."""
    return any(work.mentions[p].attribute == "@port" for p in work.between(start, end))
