"""What the holes of a charge plug say: "seven holes and two fat ones below", "round with five in a ring".

Counts are found one by one and then put together: a ring of seven is type 2, of five type 1; two fat
holes with it make the combined plug; two fat ones and three small are the North American one; nine holes,
or two fat ones in one big round, are the Japanese or the Chinese fast plug.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import STOP
from catalog.resolve.reading.words import exactly, keys, lists

# Counts that a face can have; a pair counts two.
_COUNTS = frozenset((2, 3, 5, 6, 7, 8, 9, 10))
_RINGS = frozenset((5, 7))
_PAIR = frozenset(("pair", "couple"))
_SKIPPED = 4  # words of likeness between a number and its noun
_APART = 14  # words between two things said of one face
_TOPS = frozenset(("top", "on", "edge", "at", "side", "topped"))
_CHINESE = frozenset(("chinese", "china", "gb", "gbt"))
_JOINS = frozenset(("with", "and", "plus", "over", "has"))
_NUMBERED = {"1": 5, "one": 5, "2": 7, "two": 7}
_US = frozenset(("we", "weve", "crew", "us", "our", "ours"))
_HAVE = frozenset(("have", "hv", "has", "got", "carry", "carrying", "with", "weve", "brought", "lead", "holding"))
_ABOARD = frozenset(("rig", "truck", "board", "engine", "pump", "appliance", "tender"))
_DC = ("chademo", "gbt_dc")


@dataclass(frozen=True, slots=True)
class _Group:
    """A count of holes at words [start, end). fat, small: said so. alone: no noun after it."""

    start: int
    end: int
    count: int
    fat: bool
    small: bool


def read_faces(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """A mention for each face described: which plugs it may be."""
    groups: list[_Group] = []
    at = 0
    while at < len(scan.words):
        group = None if taken[at] or scan.words[at].key not in _begins() else _group(scan, at)
        if group is not None:
            groups.append(group)
        at = at + 1 if group is None else group.end
    return [mention for face in _faces(groups) for mention in _read(scan, face)]


@cache
def _begins() -> frozenset[str]:
    """The words a count of holes may begin with."""
    said = [word for word, number in lists()["number_words"].items() if number in _COUNTS]
    return frozenset((*said, *(str(count) for count in _COUNTS), *_PAIR, *exactly("hole_fat")))


def _number(scan: Scan, at: int) -> int:
    """The count a word says, or 0. "seven-pin", "a pair"."""
    word = scan.words[at]
    if word.key in _PAIR:
        return 2
    number = word.token.number if word.token.number is not None else lists()["number_words"].get(word.token.text)
    return number if number in _COUNTS else 0


def _group(scan: Scan, at: int) -> _Group | None:
    count = _number(scan, at)
    if not count:
        return _fat_alone(scan, at)
    end, fat, small = at + 1, False, False
    while scan.key(end) and end - at <= _SKIPPED and scan.words[end].key in exactly("hole_likeness"):
        fat = fat or scan.words[end].key in exactly("hole_fat")
        small = small or scan.words[end].key in exactly("hole_small")
        end += 1
    noun = scan.key(end) in keys("holes") and (fat or small or scan.words[end].key != "one")
    stop = end + noun
    if _of_a_trailer(scan, at, end):
        return None
    if count == 2:
        told = (fat and (noun or _goes_on(scan, end))) or (noun and _below(scan, stop)) or _after_ring(scan, at)
    elif count in (3, 6, 8):
        told = small
    else:
        told = noun or (_goes_on(scan, end) and _of_a_plug(scan, at, end))
    while told and count == 2 and scan.key(stop) and scan.words[stop].token.text in exactly("beneath"):
        stop += 1
    return _Group(at, stop, count, fat, small) if told else None


def _goes_on(scan: Scan, at: int) -> bool:
    """What follows is no other noun: "two fat | underneath", "round with seven | and"."""
    return not scan.key(at) or scan.words[at].token.text in exactly("hole_follows")


def _below(scan: Scan, at: int) -> bool:
    return any(scan.words[place].token.text in exactly("beneath") for place in range(at, at + 4) if scan.key(place))


def _fat_alone(scan: Scan, at: int) -> _Group | None:
    """ "the fat pair", "with fat pins"."""
    if scan.words[at].key not in exactly("hole_fat") or not scan.key(at + 1):
        return None
    noun = scan.words[at + 1]
    plural = noun.token.text.endswith("s") and noun.key in keys("holes") and noun.key != "one"
    return _Group(at, at + 2, 2, True, False) if noun.key in _PAIR or plural else None


def _of_a_trailer(scan: Scan, start: int, end: int) -> bool:
    return any(word.key in ("trailer", "tow", "towbar", "caravan") for word in scan.words[max(0, start - 3) : end + 3])


def _after_ring(scan: Scan, at: int) -> bool:
    """ "seven and | two"."""
    joins = scan.before(at) in _JOINS
    return joins and at >= 2 and _number(scan, at - 2) in (5, 7) and _goes_on(scan, at + 1)


def _of_a_plug(scan: Scan, start: int, end: int) -> bool:
    """ "round with | seven", "socket of | seven", "the usual | seven", "seven | in a ring", "seven | and two"."""
    first = max(0, start - _SKIPPED)
    after = [word.key for word in scan.words[end : end + 3]]
    if after[:1] == ["them"] or after[:2] == ["of", "them"]:
        return any(word.key in keys("holes") for word in scan.words[max(0, start - 3) : start])
    before = [word.key for word in scan.words[first:start]]
    if after[:1] and after[0] in ("and", "with", "plus") and any(word in ("two", "2", "pair") for word in after[1:]):
        return True
    if any(word in ("ring", "circle") for word in after) or after[:1] == ["socket"]:
        return True
    led = before[-1:] and before[-1] in ("with", "of", "usual", "one")
    return bool(led) and any(word in exactly("plug_nouns") for word in (*before, *after[:2]))


def _faces(groups: Sequence[_Group]) -> list[list[_Group]]:
    """The counts that are said of one face: near each other, one ring at most."""
    made: list[list[_Group]] = []
    for group in groups:
        other = made and group.count in _RINGS and any(one.count in _RINGS - {group.count} for one in made[-1])
        if made and not other and group.start - made[-1][-1].end <= _APART:
            made[-1].append(group)
        else:
            made.append([group])
    return made


def _read(scan: Scan, face: Sequence[_Group]) -> list[Mention]:
    spans = [(group.start, group.end) for group in face]
    named = _named_before(scan, face)
    values = _values(scan, face, named)
    if not values:
        return []
    if named is not None and len(values) == 1:
        spans.insert(0, named.span)
    return [Mention("connector", values, *spans[0], also=tuple(spans[1:]))]


@dataclass(frozen=True, slots=True)
class _Named:
    """What stands right before the holes: a flat top, or a plug with a number; it is of a ring of so many."""

    count: int
    span: tuple[int, int]


def _named_before(scan: Scan, face: Sequence[_Group]) -> _Named | None:
    """ "a ring with a flat top | and two big ones", "type 2 with | two big pins"."""
    words = scan.words
    for at in range(face[0].start - 2, max(-1, face[0].start - 9), -1):
        key, after = words[at].key, words[at + 1].key
        if key in ("flat", "flattened") and after in _TOPS:
            return _Named(7, (at, at + 2))
        near = face[0].start - at < 5
        if near and key in ("type", "typ") and after in _NUMBERED and words[face[0].start - 1].key in _JOINS:
            return _Named(_NUMBERED[after], (at, at + 2))
    return None


def _values(scan: Scan, face: Sequence[_Group], named: _Named | None) -> tuple[str, ...]:
    rings = {group.count for group in face if group.count in (5, 7) and not group.fat}
    pair = next((group for group in face if group.count == 2 and not group.small), None)
    words = [word.key for word in scan.words]
    chinese = not _CHINESE.isdisjoint(words)
    if any(group.count in (9, 10) for group in face):
        return ("gbt_ac", "gbt_dc") if 7 in rings else ("gbt_dc",) if chinese else _DC
    rings |= _or_so(words, face[-1].end) if rings else set()
    if pair is None:
        made = [("gbt_ac" if chinese else "type2") if ring == 7 else "type1" for ring in sorted(rings)]
        return tuple(sorted(made))
    if any(group.count == 3 for group in face):
        return ("j3400",)
    before = words[max(0, pair.start - 7) : pair.start]
    if "japanese" in before:
        return ("chademo",)
    if _in_one_round(words, pair):
        ring = {5: "type1", 7: "type2"}
        return tuple(sorted((*_DC, *(ring[count] for count in rings))))
    if any(group.count == 6 for group in face):
        return ("ccs2",)
    if named is not None and not rings:
        rings = {named.count}
    combined = {5: "ccs1", 7: "ccs2"}
    return tuple(sorted(combined[count] for count in rings)) or ("ccs1", "ccs2")


def _or_so(words: Sequence[str], at: int) -> set[int]:
    """ "seven holes | or was it five"."""
    after = words[at : at + 5]
    if "or" not in after:
        return set()
    said = {"five": 5, "5": 5, "seven": 7, "7": 7}
    later = words[at + after.index("or") : at + 6]
    if any(word in keys("holes") for word in later):
        return set()
    return {said[word] for word in later if word in said}


def _in_one_round(words: Sequence[str], pair: _Group) -> bool:
    """ "one big round one with | two fat holes", "side by side": not below a ring."""
    before, after = words[max(0, pair.start - 4) : pair.start], words[pair.end : pair.end + 3]
    if after == ["side", "by", "side"] or "inside" in after:
        return True
    return ("big" in before and "round" in before) or "mouth" in before


def carried(scan: Scan, mention: Mention) -> bool:
    """A plug the crew has with it, not the vehicle's: "we've a type 2 dummy", "the five pin plug on the rig"."""
    words = scan.words
    after = [word.key for word in words[mention.end : mention.end + 6] if word.token.parted < STOP]
    if "dummy" in after[:3] or "blocking" in after or ("on" in after and any(word in _ABOARD for word in after)):
        return True
    before = [word.token.text for word in words[max(0, mention.start - 6) : mention.start]]
    return any(word in _US for word in before) and any(word in _HAVE for word in before)
