"""Plugs named by where they come from and what they are for: "the Chinese one for fast", "that German autobahn socket".

A region, a use (quick, or at home) and a plug, in any order within a clause, are one plug; a region alone is left
to the phrase table. Also what names half of a combined plug ("a J1772 with two big ones below").
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.words import exactly, word_lists

_BEFORE, _BEHIND = 4, 6  # words round a region
_ROUND = 10  # words round a flat top
# Region and use -> plug.
_PLUGS = {
    "american slow": "type1", "american fast": "ccs1", "american small": "j3400",
    "european slow": "type2", "european fast": "ccs2",
    "chinese slow": "gbt_ac", "chinese fast": "gbt_dc",
    "japanese slow": "type1", "japanese fast": "chademo",
}  # fmt: skip
_HALVES = {"american": 5, "european": 7}
_NUMBERED = {"1": 5, "one": 5, "2": 7, "two": 7}
_TOPS = frozenset(("top", "on", "edge", "at", "side", "topped", "head", "across", "upper"))
_FLAT = frozenset(("flat", "flattened"))
_J = frozenset(("j1772", "1772"))
_COMBO = frozenset(("combo", "ccs", "combined", "combination", "combi", "kombo"))


@dataclass(frozen=True, slots=True)
class Half:
    """What names the ring of a plug: of how many holes it is, 0 where it only says that there are two parts."""

    count: int
    start: int
    end: int


@cache
def _said() -> Mapping[str, frozenset[str]]:
    return word_lists("plugs")


@cache
def _regions() -> Mapping[str, str]:
    return {word: region for region in _REGIONS for word in _said()[region]}


_REGIONS = ("american", "european", "chinese", "japanese")


def halves(scan: Scan, first: int, last: int) -> list[Half]:
    """What names a ring, or a combined plug, among the words of [first, last)."""
    made: list[Half] = []
    words = scan.words
    for at in range(max(0, first), min(len(words), last)):
        key, after = words[at].key, scan.key(at + 1)
        if key in _FLAT and after in _TOPS:
            made.append(Half(7, at, at + 2))
        elif key in ("type", "typ") and after in _NUMBERED:
            made.append(Half(_NUMBERED[after], at, at + 2))
        elif key in _J or (key == "j" and after in ("1772", "plug", "socket")):
            made.append(Half(5, at, at + 1 + (key == "j")))
        elif _HALVES.get(_regions().get(key, "")):
            made.append(Half(_HALVES[_regions()[key]], at, at + 1))
        elif key in _COMBO:
            made.append(Half(0, at, at + 1))
    return made


def read_named(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """A mention for each plug of a region with a use, and for a flat top alone."""
    made = _flat_tops(scan, taken)
    for at, word in enumerate(scan.words):
        region = _regions().get(word.key)
        if region is None or taken[at] or _of_a_vehicle(scan, at + 1):
            continue
        mention = _of_region(scan, at, region)
        if mention is not None and not (made and mention.start < made[-1].end):
            made.append(mention)
    return made


def _of_a_vehicle(scan: Scan, at: int) -> bool:
    vehicle = scan.is_vehicle(at) and scan.key(at) not in _said()["plugs"]
    return vehicle or scan.key(at) in _said()["not_plugs"]


def _flat_tops(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """ "round with a flat head": where no holes are counted."""
    for half in halves(scan, 0, len(scan.words)):
        if half.count == 7 and scan.words[half.start].key in _FLAT and not any(taken[half.start : half.end]):
            near = scan.words[max(0, half.start - _ROUND) : half.end + _ROUND]
            round_one = any(word.key in ("round", "circle", "ring") for word in near)
            if round_one and any(word.key in exactly("plug_context") for word in near):
                return [Mention("connector", ("type2",), half.start, half.end, Doubt.HEDGED)]
    return []


def _of_region(scan: Scan, at: int, region: str) -> Mention | None:
    first, last = at, at + 1
    while first > 0 and at - first < _BEFORE and scan.before(first) and not _is_other(scan, first - 1, at):
        first -= 1
    while last - at < _BEHIND and scan.key(last) and not _is_other(scan, last, at):
        last += 1
    span = range(first, last)
    noun = [place for place in span if place != at and scan.words[place].key in _said()["plugs"]]
    uses = [(use, place) for use in ("fast", "slow", "small") for place in span if _is_use(scan, place, use)]
    if region == "chinese" and any(word.key == "chademo" for word in scan.words[max(0, at - 5) : at]):
        uses.append(("fast", at))
    if region == "japanese" and noun:
        uses.append(("fast", at))
    plug = next((_PLUGS[f"{region} {use}"] for use, _ in uses if f"{region} {use}" in _PLUGS), None)
    near = any(word.key in exactly("port_words") for word in scan.words[max(0, at - 14) : at + 14])
    if plug is None or not (noun or near):
        return None
    places = [at, *noun, *(place for _, place in uses)]
    return Mention("connector", (plug,), min(places), max(places) + 1, Doubt.HEDGED)


def _is_other(scan: Scan, place: int, at: int) -> bool:
    """Another region, or what leads to another plug."""
    key = scan.words[place].key
    return (key in _regions() and place != at) or key in ("and", "or", "other", "with", "but")


def _is_use(scan: Scan, place: int, use: str) -> bool:
    return scan.words[place].key in _said()[use] and scan.words[place - 1].key not in ("no", "not")
