"""Places by the clock, twelve at the front: "the plugs are at ten and two", "about eight if the nose is twelve".

A full "two o'clock" is in the phrase table; here are the numbers alone, where the clock is spoken of, and what
only says where twelve is, which is no place.
"""

from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.words import lists

_TWELVE = frozenset(("twelve", "12"))
_NAMES = frozenset(("nose", "front", "bonnet", "hood", "travel", "grille", "windscreen", "face"))
_LINKS = frozenset(
    ("is", "as", "at", "being", "the", "its", "be", "s", "are", "to", "facing", "direction", "of", "oclock")
)
_AT = frozenset(("at", "about", "around", "roughly", "approx", "near", "to", "and", "or", "nearly", "position"))
_CLOCK = frozenset(("oclock", "clock"))
_SPOKEN = _CLOCK | {"o"}
_SIDES = {12: "centre", 6: "centre", 1: "right", 2: "right", 3: "right", 4: "right", 5: "right",
          7: "left", 8: "left", 9: "left", 10: "left", 11: "left"}  # fmt: skip
_ENDS = {12: "front", 1: "front", 2: "front", 10: "front", 11: "front", 3: "middle", 9: "middle",
         4: "rear", 5: "rear", 6: "rear", 7: "rear", 8: "rear"}  # fmt: skip


def clock_frame(scan: Scan) -> list[Mention]:
    """What says where twelve is: "if the nose is twelve o'clock", "twelve being the front". "@small"."""
    made = []
    for at, word in enumerate(scan.words):
        if word.token.text not in _TWELVE:
            continue
        start, end = at, at + 1
        while scan.key(end) in _CLOCK or scan.next(end) in ("o", "clock"):
            end += 1
        back = start
        while back > 0 and scan.before(back) in _LINKS:
            back -= 1
        if (
            back > 0
            and back < start
            and scan.before(back)
            and scan.words[back - 1].key in _NAMES
            and scan.words[start - 1].token.text != "at"
        ):
            made.append(Mention("@small", ("clock",), back - 1, end))
            continue
        ahead = end
        while scan.next(ahead) in _LINKS:
            ahead += 1
        words = [scan.words[place].token.text for place in range(end, ahead)]
        if ahead > end and scan.next(ahead) in _NAMES and ("as" in words or "being" in words or "is" in words):
            made.append(Mention("@small", ("clock",), start, ahead + 1))
    return made


def read_clock(scan: Scan, taken: list[bool]) -> list[Mention]:
    """Hours without "o'clock" where a frame or another hour is said: sides and ends."""
    if not scan.charged:
        return []
    if not scan.anywhere(_SPOKEN) and not clock_frame(scan):
        return []
    numbers = lists()["number_words"]
    made = []
    for at, word in enumerate(scan.words):
        hour = numbers.get(word.token.text, word.token.number)
        if taken[at] or hour not in _SIDES or scan.before(at) not in _AT or not _ends_there(scan, at + 1):
            continue
        made.append(Mention("@side", (_SIDES[hour],), at, at + 1))
        made.append(Mention("@end", (_ENDS[hour],), at, at + 1))
        taken[at] = True
    return made


def _ends_there(scan: Scan, at: int) -> bool:
    """Nothing counted follows: "at two, above the wheel", "at ten and two", "at four on the clock"."""
    return scan.next(at) in ("", "and", "or", "on", "if", "above", "behind", "over", "by", "at", "in", "with", "under",
                             "just", "near", "low", "high", "the", "central", "ish", "position")  # fmt: skip
