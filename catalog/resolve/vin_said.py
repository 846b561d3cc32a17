"""Vehicle identification numbers, whole or at least eleven characters of one.

The check digit is the answer's business; here a number is only recognised. O, I and Q never
occur in one, so they are read as the digits they were mistaken for, with a doubt.
"""

from collections.abc import Sequence
from dataclasses import replace

from catalog.domain.vin import ALPHABET, LENGTH
from catalog.resolve.cue import Doubt
from catalog.resolve.mention import Mention
from catalog.resolve.tokens import PAUSE
from catalog.resolve.words import Word

SHORTEST = 11
_FEWEST_DIGITS, _FEWEST_LETTERS = 2, 2
_MISREAD = {"o": "0", "q": "0", "i": "1"}
_INTRODUCED = frozenset(("vin", "chassis", "identification", "frame"))


def read_vins(words: Sequence[Word]) -> list[Mention]:
    """Every VIN in the text; written apart only where "vin" or "chassis" introduces it."""
    made: list[Mention] = []
    said = any(word.token.text in _INTRODUCED for word in words)
    at = 0
    while at < len(words):
        intro = _introduction(words, at) if said else 0
        found = _apart(words, at) if intro else None
        found = found or _whole(words, at)
        if found is None:
            at += 1
            continue
        made.append(replace(found, also=((intro - 1, at),) if intro else ()))
        at = found.end
    return made


def _whole(words: Sequence[Word], at: int) -> Mention | None:
    found = _as_vin(words[at].token.text)
    return None if found is None else Mention("vin", (found[0],), at, at + 1, found[1])


def _apart(words: Sequence[Word], at: int) -> Mention | None:
    """A whole number written in groups: "DEMKL 2V4X RA000123"."""
    text = ""
    for end in range(at, len(words)):
        if end > at and words[end].token.parted >= PAUSE:
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
    value = "".join(_MISREAD.get(char, char) for char in text).upper()
    digits = sum(char.isdigit() for char in text)
    if digits < _FEWEST_DIGITS or len(text) - digits < _FEWEST_LETTERS or any(char not in ALPHABET for char in value):
        return None
    return value, Doubt.FIRM if value == text.upper() else Doubt.HEDGED
