"""Vehicle identification numbers, whole or at least eleven characters of one.

The check digit is the answer's business; here a number is only recognised. O, I and Q never
occur in one, so they are read as the digits they were mistaken for, with a doubt.
"""

from collections.abc import Sequence

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
    at = 0
    while at < len(words):
        end = at + 1
        text = words[at].token.text
        if not any("0" <= char <= "9" for char in text) and not words[at].token.upper:
            at += 1
            continue
        if _introduced(words, at):
            while end < len(words) and len(text) < LENGTH and _continues(words[end]):
                text += words[end].token.text
                end += 1
        found = _as_vin(text)
        if found is None and end > at + 1:
            end, found = at + 1, _as_vin(words[at].token.text)
        if found is not None:
            value, doubt = found
            intro = [(before, at) for before in range(max(0, at - 3), at) if words[before].token.text in _INTRODUCED]
            made.append(Mention("vin", (value,), at, end, doubt, also=tuple(intro[:1])))
            at = end
        else:
            at += 1
    return made


def _introduced(words: Sequence[Word], at: int) -> bool:
    near = [words[before].token.text for before in range(max(0, at - 3), at)]
    return any(word in _INTRODUCED for word in near)


def _continues(word: Word) -> bool:
    return word.token.parted < PAUSE and (any(char.isdigit() for char in word.token.text) or word.token.upper)


def _as_vin(text: str) -> tuple[str, Doubt] | None:
    if not SHORTEST <= len(text) <= LENGTH or not text.isascii():
        return None
    value = "".join(_MISREAD.get(char, char) for char in text).upper()
    digits = sum(char.isdigit() for char in text)
    if digits < _FEWEST_DIGITS or len(text) - digits < _FEWEST_LETTERS or any(char not in ALPHABET for char in value):
        return None
    return value, Doubt.FIRM if value == text.upper() else Doubt.HEDGED
