"""Doors counted by side or by row, and with what opens at the back: "two each side and a tailgate" are five.

A boot lid and the flap of a bed are no door. The sayings stand in data/doors.json.
"""

import json
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import DATA, Word, exactly

DOORS = frozenset(("door", "dr", "drs", "doored"))
_PLACES = ("back", "rear", "hatch", "hatchback")
_JOINS = frozenset(("and", "plus", "with", "then", "also"))
_BETWEEN_BACK = frozenset(
    ("a", "the", "an", "big", "small", "little", "lift", "up", "one", "twin", "also", "its", "opening", "wide")
)


@cache
def _sayings(name: str) -> Sequence[Sequence[str]]:
    return [said.split() for said in json.loads((DATA / "doors.json").read_text(encoding="utf-8"))[name]]


def with_the_back(words: Sequence[Word], said: Mention) -> Mention:
    """Doors counted by side, and with what opens at the back."""
    count, end = said.values, said.end
    each = next((len(part) for part in _sayings("each_side") if _texts(words, end, len(part)) == part), 0)
    if each and count == ("2",):
        count, end = ("4",), end + each
    if count != ("4",) or any(word.key in exactly("open_bed") for word in words[max(0, said.start - 2) : end + 4]):
        return said if end == said.end else replace(said, values=count, end=end)
    back = _back_after(words, end) or (end if _back_before(words, said.start) else 0)
    return replace(said, values=("5",) if back else count, end=back or end)


def _texts(words: Sequence[Word], start: int, count: int) -> list[str]:
    return [word.token.text for word in words[start : start + count]]


def _back_after(words: Sequence[Word], end: int) -> int:
    """Where "and a tailgate", "+ rear hatch", ", tail door" after counted doors ends, or 0."""
    at = end
    while at < len(words) and words[at].token.text in ("doors", "door", "side", "sides", "on", "it", "each"):
        at += 1
    if at >= len(words) or not (words[at].token.text in _JOINS or words[at].token.parted == PAUSE):
        return 0
    joined = words[at].token.text in _JOINS
    at += joined
    limit = at + 4
    while at < min(limit, len(words)) and words[at].token.parted < STOP:
        for part in _sayings("opens_at_back"):
            if _texts(words, at, len(part)) == part and (joined or part[-1] not in _PLACES):
                return at + len(part)
        if words[at].token.text not in _BETWEEN_BACK:
            return 0
        at += 1
    return 0


def _back_before(words: Sequence[Word], start: int) -> bool:
    """ "a tailgate and four doors"."""
    if start < 2 or words[start - 1].token.text not in ("and", "plus"):
        return False
    return any(_texts(words, start - 1 - len(part), len(part)) == part for part in _sayings("opens_at_back")[:6])


def _one_each_side(words: Sequence[Word]) -> list[Mention]:
    """ "a door each side", "one long door on either side"."""
    for at, word in enumerate(words):
        if word.key not in DOORS:
            continue
        each = next((len(part) for part in _sayings("each_side") if _texts(words, at + 1, len(part)) == part), 0)
        before = [w.token.text for w in words[max(0, at - 2) : at]]
        if each and any(text in ("a", "one", "single", "1", "long", "big") for text in before):
            back = _back_after(words, at + 1 + each)
            return [Mention("doors", ("3" if back else "2",), at, back or at + 1 + each)]
    return []


def doors_by_row(words: Sequence[Word], counted: Sequence[Mention]) -> list[Mention]:
    """ "side doors for both rows plus rear doors": five."""
    if counted:
        return []
    one = _one_each_side(words)
    if one:
        return one
    for at, word in enumerate(words):
        if word.key not in DOORS or both_rows(words, at + 1) == 0:
            continue
        text = [w.token.text for w in words[max(0, at - 6) : at + 12]]
        back = any(
            part in " ".join(text) for part in ("rear doors", "barn doors", "back doors", "rows back", "and back")
        )
        return [Mention("doors", ("5" if back else "4",), at, at + 1)]
    return []


def both_rows(words: Sequence[Word], at: int) -> int:
    """How many words "for both rows", "both rows" takes, with its homophones."""
    start = at
    while at < len(words) and words[at].token.text in ("for", "to", "on", "at", "the", "in"):
        at += 1
    row = at + 1 < len(words) and words[at].token.text == "both" and words[at + 1].token.text in ("rows", "row", "rose")
    return at + 2 - start if row else 0
