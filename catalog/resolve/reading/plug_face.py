"""What the holes of a charge plug say: "seven holes and two fat ones below", "round with five in a ring".

Counts are found one by one and then put together: a ring of seven is type 2, of five type 1; two fat
holes with it make the combined plug; two fat ones and three small are the North American one; nine holes,
or two fat ones in one big round, are the Japanese or the Chinese fast plug.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.plug_named import Half, halves
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import STOP
from catalog.resolve.reading.words import exactly, keys, lists

# Counts that a face can have; a pair counts two.
_COUNTS = frozenset((2, 3, 5, 6, 7, 8, 9, 10))
_RINGS = frozenset((5, 7))
_RING_WORDS = {"five": 5, "5": 5, "seven": 7, "7": 7}
_PAIR = frozenset(("pair", "couple"))
_SKIPPED = 4  # words of likeness between a number and its noun
_APART = 14  # words between two things said of one face
_REACH = 8  # words from a face to what names half of it
_ABSENT = frozenset(("no", "without", "nil", "minus", "zero"))
_MENDED = frozenset(("no", "sorry", "wait", "mean", "correction", "pardon", "scratch"))
_CHINESE = frozenset(("chinese", "china", "gb", "gbt"))
_JOINS = frozenset(("with", "and", "plus", "over", "has", "above"))
_US = frozenset(("we", "weve", "crew", "us", "our", "ours"))
_HAVE = frozenset(("have", "hv", "has", "got", "carry", "carrying", "with", "weve", "brought", "lead", "holding"))
_ABOARD = frozenset(("rig", "truck", "board", "engine", "pump", "appliance", "tender"))
_DC = ("chademo", "gbt_dc")
_SLIM = frozenset(("slim", "oval", "skinny", "slender"))
_HALF_OF = {"ccs1": 5, "ccs2": 7}


@dataclass(frozen=True, slots=True)
class _Group:
    """A count of holes at words [start, end). fat, small: said so. absent: "no DC pins"."""

    start: int
    end: int
    count: int
    fat: bool
    small: bool
    absent: bool = False


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
    noun = _is_hole(scan, end) and (fat or small or scan.words[end].key != "one")
    stop = end + noun
    if _of_a_trailer(scan, at, end):
        return None
    if count == 2:
        told = (fat and (noun or _goes_on(scan, end))) or (noun and _below(scan, stop)) or _after_ring(scan, at)
    elif count in (3, 6, 8):
        told = small
    else:
        told = noun or (not _among_numbers(scan, at) and _goes_on(scan, end) and _of_a_plug(scan, at, end))
    while told and count == 2 and scan.key(stop) and scan.words[stop].token.text in exactly("beneath"):
        stop += 1
    return _Group(at, stop, count, fat, small) if told else None


def _among_numbers(scan: Scan, at: int) -> bool:
    """One figure of several: "four one | nine"."""
    numbers = lists()["number_words"]
    return scan.before(at) in numbers or scan.next(at + 1) in numbers


def _is_hole(scan: Scan, at: int) -> bool:
    """A hole, or what is like one where a plug is spoken of: "two nostrils", "seven dots"."""
    if scan.key(at) in keys("holes"):
        return True
    like = scan.key(at) in exactly("hole_like") and scan.words[at].token.text.endswith("s")
    return like and _plug_spoken_of(scan, at)


def _goes_on(scan: Scan, at: int) -> bool:
    """What follows is no other noun: "two fat | underneath", "round with seven | and"."""
    return not scan.key(at) or scan.words[at].token.text in exactly("hole_follows")


def _below(scan: Scan, at: int) -> bool:
    for place in range(at, at + 8):
        if not scan.key(place):
            return False
        if scan.words[place].token.text in exactly("beneath"):
            return True
    return False


def _fat_alone(scan: Scan, at: int) -> _Group | None:
    """ "the fat pair", "with fat pins"."""
    if scan.words[at].key not in exactly("hole_fat") or not scan.key(at + 1):
        return None
    noun = scan.words[at + 1]
    plural = noun.token.text.endswith("s") and _is_hole(scan, at + 1) and noun.key != "one"
    part = scan.words[at].key in ("dc", "rapid", "fast") and noun.key in ("part", "half", "section")
    absent = scan.before(at) in _ABSENT
    return _Group(at, at + 2, 2, True, False, absent) if noun.key in _PAIR or plural or (part and absent) else None


def _of_a_trailer(scan: Scan, start: int, end: int) -> bool:
    return any(word.key in ("trailer", "tow", "towbar", "caravan") for word in scan.words[max(0, start - 3) : end + 3])


def _after_ring(scan: Scan, at: int) -> bool:
    """ "seven and | two", "seven holes plus | two", "J1772 above and | two slots"."""
    if scan.before(at) not in _JOINS or not (_goes_on(scan, at + 1) or _is_hole(scan, at + 1)):
        return False
    ring = any(_number(scan, place) in _RINGS for place in range(max(0, at - 4), at))
    return _plug_spoken_of(scan, at) and (ring or any(half.count for half in halves(scan, at - 5, at)))


def _plug_spoken_of(scan: Scan, at: int) -> bool:
    return any(word.key in exactly("plug_context") for word in scan.words[max(0, at - 16) : at + 12])


def _of_a_plug(scan: Scan, start: int, end: int) -> bool:
    """ "round with | seven", "socket of | seven", "the usual | seven", "seven | in a ring", "seven | and two"."""
    first = max(0, start - _SKIPPED)
    after = [word.key for word in scan.words[end : end + 3]]
    if after[:1] == ["them"] or after[:2] == ["of", "them"]:
        return any(word.key in keys("holes") for word in scan.words[max(0, start - 3) : start])
    before = [word.key for word in scan.words[first:start]]
    ring = _number(scan, start) in _RINGS
    if ring and after[:1] and after[0] in _JOINS and any(word in ("two", "2", "pair") for word in after[1:]):
        return _plug_spoken_of(scan, start)
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
    absent = [Mention("@trap", (), group.start - 1, group.end) for group in face if group.absent]
    face = [group for group in face if not group.absent]
    if not face:
        return absent
    spans = [(group.start, group.end) for group in face]
    near = _same_sentence(scan, halves(scan, face[0].start - _REACH, face[-1].end + _REACH), face)
    values = _values(scan, face, near)
    if not values:
        return absent
    if len(values) == 1 and values[0] in _HALF_OF:
        same = [(half.start, half.end) for half in near if half.count == _HALF_OF[values[0]]]
        spans = [
            *(span for span in same if span[1] <= face[0].start),
            *spans,
            *(s for s in same if s[1] > face[0].start),
        ]
    return [*absent, Mention("connector", values, *spans[0], also=tuple(spans[1:]))]


def _same_sentence(scan: Scan, found: Sequence[Half], face: Sequence[_Group]) -> list[Half]:
    """Those of the found that no stop parts from the face."""
    words, first, last = scan.words, face[0].start, face[-1].end
    return [
        half
        for half in found
        if not any(
            words[at].token.parted >= STOP
            for at in range(min(half.end, last), max(first, half.start) + 1)
            if at < len(words)
        )
        and not any(group.start <= half.start < group.end for group in face)
    ]


def _values(scan: Scan, face: Sequence[_Group], near: Sequence[Half]) -> tuple[str, ...]:
    """Which plugs the holes may be."""
    rings = {group.count for group in face if group.count in _RINGS and not group.fat}
    pair = next((group for group in face if group.count == 2 and not group.small), None)
    words = [word.key for word in scan.words]
    chinese = not _CHINESE.isdisjoint(words)
    if any(group.count in (9, 10) for group in face):
        return ("gbt_ac", "gbt_dc") if 7 in rings else ("gbt_dc",) if chinese else _DC
    rings = _mended(words, face, rings) if rings else set()
    combined = {5: "ccs1", 7: "ccs2"}
    if pair is None:
        combo = next((half for half in near if half.count == 0), None)
        if combo is not None and scan.words[combo.start - 1].key != "not":
            return tuple(sorted(combined[ring] for ring in rings))
        if rings == {5} and not _SLIM.isdisjoint(words[max(0, face[0].start - _REACH) : face[-1].end + _REACH]):
            return ("j3400",)
        return tuple(sorted(("gbt_ac" if chinese else "type2") if ring == 7 else "type1" for ring in rings))
    if any(group.count == 3 for group in face):
        return ("j3400",)
    if "japanese" in words[max(0, pair.start - 7) : pair.start]:
        return ("chademo",)
    if _in_one_round(scan, words, pair):
        ring = {5: "type1", 7: "type2"}
        return tuple(sorted((*_DC, *(ring[count] for count in rings))))
    if any(group.count == 6 for group in face):
        return ("ccs2",)
    rings = rings or _summed(scan, pair)
    named = None if rings else next((half for half in near if half.count), None)
    if named is not None:
        return (combined[named.count],)
    return tuple(sorted(combined[count] for count in rings)) or ("ccs1", "ccs2")


def _summed(scan: Scan, pair: _Group) -> set[int]:
    """ "two eyes, a nose, two dimples, and | two fat nostrils": five."""
    total = 0
    for at in range(max(0, pair.start - 12), pair.start):
        count = _number(scan, at)
        if count and count <= 3 and _is_hole(scan, at + 1):
            total += count
        elif scan.words[at].key in ("nose", "chin") and total:
            total += 1
    return {total} & set(_RINGS)


def _mended(words: Sequence[str], face: Sequence[_Group], rings: set[int]) -> set[int]:
    """ "five pins, no sorry | seven", "seven holes, or was it | five"."""
    for group in face:
        after = words[group.end : group.end + 4]
        number = next((place for place, word in enumerate(after) if word in _RING_WORDS), 0)
        if group.count in _RINGS and any(word in _MENDED for word in after[:number]):
            return (rings - {group.count}) | {_RING_WORDS[after[number]]}
    return rings | _or_so(words, face[-1].end)


def _or_so(words: Sequence[str], at: int) -> set[int]:
    """ "seven holes | or was it five"."""
    after = words[at : at + 5]
    if "or" not in after:
        return set()
    later = words[at + after.index("or") : at + 6]
    if any(word in keys("holes") for word in later):
        return set()
    return {_RING_WORDS[word] for word in later if word in _RING_WORDS}


def _in_one_round(scan: Scan, words: Sequence[str], pair: _Group) -> bool:
    """ "one big round one with | two fat holes", "side by side": not below a ring."""
    before = words[max(0, pair.start - 4) : pair.start]
    after = [scan.key(at) for at in range(pair.end, pair.end + 3)]
    if after == ["side", "by", "side"] or "inside" in after:
        return True
    return ("big" in before and "round" in before) or "mouth" in before


def carried(scan: Scan, mention: Mention) -> bool:
    """A plug the crew has with it, not the vehicle's: "we've a type 2 dummy", "the five pin plug on the rig"."""
    words = scan.words
    after = [word.key for word in words[mention.end : mention.end + 6] if word.token.parted < STOP]
    if (
        not {"dummy", "blind", "blanking", "blanker"}.isdisjoint(after[:3])
        or "blocking" in after
        or ("on" in after and any(word in _ABOARD for word in after))
    ):
        return True
    before = [word.token.text for word in words[max(0, mention.start - 6) : mention.start]]
    return any(word in _US for word in before) and any(word in _HAVE for word in before)
