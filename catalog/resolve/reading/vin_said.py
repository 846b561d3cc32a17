"""Vehicle identification numbers: whole, at least eleven characters of one, or a part said to be one.

The check digit is the answer's business; here a number is only recognised. O, I and Q never
occur in one, so they are read as the digits they were mistaken for, with a doubt. A part keeps where it
stood: "X9Q*" begins the number, "*4421" ends it, "*KB7*" is somewhere inside.
"""

from collections.abc import Sequence
from dataclasses import replace

from catalog.domain.vin import ALPHABET, LENGTH
from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.spelled import PHONETIC, spelt
from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import Word, exactly, lists

SHORTEST = 11
_SHORTEST_PART, _SHORTEST_BARE, _SHORTEST_UNNAMED = 2, 3, 8
_FEWEST_DIGITS, _FEWEST_LETTERS = 2, 2
_MISREAD = {"o": "0", "q": "0", "i": "1"}
_INTRODUCED = frozenset(("vin", "chassis", "identification", "frame"))
_PARTED = frozenset(("vin", "chassis"))
_LAST = frozenset(("ends", "ending", "end", "last", "finishes", "finishing", "finish"))
_FIRST = frozenset(("starts", "start", "starting", "begins", "begin", "beginning", "first"))
_INSIDE = frozenset(("has", "contains", "containing", "middle", "somewhere", "includes", "got"))
_COUNTED = frozenset(("last", "first"))
_NEAR = 10


def read_vins(words: Sequence[Word]) -> list[Mention]:
    """Every VIN in the text; written apart only where "vin" or "chassis" introduces it."""
    made: list[Mention] = []
    said = any(word.token.text in _INTRODUCED for word in words)
    at = 0
    while at < len(words):
        intro = _introduction(words, at) if said else 0
        found = _apart(words, at) if intro else None
        found = found or _whole(words, at) or _dictated(words, at)
        if found is None:
            at += 1
            continue
        made.append(replace(found, also=((intro - 1, at),) if intro else ()))
        at = found.end
    made += _parts(words, made) if said else []
    return made or _bare(words)


def _bare(words: Sequence[Word]) -> list[Mention]:
    """ "it starts DA4LH4MD": the beginning of a number nobody named, where no plate is spoken of."""
    for at, word in enumerate(words):
        text = word.token.text
        if not (_SHORTEST_UNNAMED <= len(text) < SHORTEST and word.token.upper and text.isascii()):
            continue
        digits = sum("0" <= char <= "9" for char in text)
        plate = any(other.token.text in exactly("plate_words") for other in words[max(0, at - _NEAR) : at])
        if not plate and digits >= _FEWEST_DIGITS and len(text) - digits > _FEWEST_LETTERS:
            return [Mention("vin", (f"{text.upper()}*",), at, at + 1, Doubt.HEDGED)]
    return []


def _whole(words: Sequence[Word], at: int) -> Mention | None:
    text = words[at].token.text
    found = _as_vin(text) if len(text) >= SHORTEST else None
    return None if found is None else Mention("vin", (found[0],), at, at + 1, found[1])


def _dictated(words: Sequence[Word], at: int) -> Mention | None:
    """Eleven characters or more, spelled out; the spelling alphabet makes it one without "vin"."""
    text = words[at].token.text
    if text not in PHONETIC and text != "x":
        return None
    run = spelt(words, at, groups=True)
    if run is None or not run.spoken or not SHORTEST <= len(run.text) <= LENGTH:
        return None
    found = _as_vin(run.text)
    return None if found is None else Mention("vin", (found[0],), at, run.end, found[1])


def _apart(words: Sequence[Word], at: int) -> Mention | None:
    """A whole number written in groups or spelled out: "DEMKL 2V4X RA000123"."""
    run = spelt(words, at, groups=True)
    if run is not None and run.spoken and SHORTEST <= len(run.text) <= LENGTH:
        found = _as_vin(run.text)
        if found is not None:
            return Mention("vin", (found[0],), at, run.end, found[1])
    text = ""
    for end in range(at, min(len(words), at + LENGTH)):
        if (end > at and words[end].token.parted >= PAUSE) or words[end].token.text in exactly("function"):
            break
        text += words[end].token.text
        if len(text) >= LENGTH:
            found = _as_vin(text)
            return None if found is None or end == at else Mention("vin", (found[0],), at, end + 1, found[1])
    return None


def _introduction(words: Sequence[Word], at: int) -> int:
    """One more than the position of "vin" or "chassis" shortly before, 0 if there is none."""
    for before in range(at - 1, max(-1, at - 4), -1):
        if words[before].token.text in _INTRODUCED:
            return before + 1
    return 0


def _as_vin(text: str) -> tuple[str, Doubt] | None:
    if not SHORTEST <= len(text) <= LENGTH or not text.isascii():
        return None
    value = _put_right(text)
    digits = sum("0" <= char <= "9" for char in text)
    if digits < _FEWEST_DIGITS or len(text) - digits < _FEWEST_LETTERS or any(char not in ALPHABET for char in value):
        return None
    return value, _doubt(text, value)


def _put_right(text: str) -> str:
    return "".join(_MISREAD.get(char, char) for char in text).upper()


def _doubt(text: str, value: str) -> Doubt:
    return Doubt.FIRM if value == text.upper() else Doubt.HEDGED


def _parts(words: Sequence[Word], whole: Sequence[Mention]) -> list[Mention]:
    """ "vin ends four four two one", "last four of the chassis number 4421"."""
    taken = {at for mention in whole for first, last in mention.ranges for at in range(first, last)}
    made: list[Mention] = []
    done = 0
    for intro, word in enumerate(words):
        if word.token.text not in _PARTED or intro in taken or intro < done:
            continue
        before = [words[at].token.text for at in range(max(0, intro - 5), intro)]
        where, at = _position(before), intro + 1
        while at < len(words) and at < intro + _NEAR and words[at].token.parted < STOP:
            text = words[at].token.text
            where = _position((text,)) or where
            found = _part(words, at, where, intro) if at not in taken else None
            if found is None:
                at += 1
                continue
            made.append(found)
            intro, at, where = at, found.end, ""
        done = at
    return made


def _position(said: Sequence[str]) -> str:
    """Which part the words speak of: "first", "last", "inside" or "" (unsaid)."""
    for kind, among in (("last", _LAST), ("first", _FIRST), ("inside", _INSIDE)):
        if any(text in among for text in said):
            return kind
    return ""


def _part(words: Sequence[Word], at: int, where: str, intro: int) -> Mention | None:
    run = spelt(words, at, groups=True)
    if run is None or (run.text[0] in "ai" and len(words[at].token.text) == 1 and not words[at].token.upper):
        return None
    start, text = at, run.text
    counted = words[at - 1].token.text in _COUNTED or words[at].token.text in lists()["number_words"]
    count: int | None = lists()["number_words"].get(words[at].token.text, words[at].token.number)
    if where and counted and count is not None and len(run.text) == count + 1:
        start, text = at + 1, run.text[1:]  # "last four, four four two one"
    if len(text) < (_SHORTEST_PART if where else _SHORTEST_BARE) or len(text) >= SHORTEST:
        return None
    letters = sum("a" <= char <= "z" for char in text)
    if not where and not 0 < letters < len(text):
        return None
    value = text.upper()
    after = [word.token.text for word in words[run.end : run.end + 3]]
    if after[:2] in (["in", "it"], ["in", "the"]) or "somewhere" in after:
        where = "inside"
    shape = {"last": f"*{value}", "inside": f"*{value}*"}.get(where, f"{value}*")
    return Mention("vin", (shape,), start, run.end, _doubt(text, _put_right(text)), also=((intro, intro + 1),))
