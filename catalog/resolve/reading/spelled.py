"""Letters and digits said one by one: "x-ray nine quebec", "double four", "E L L".

The spelling alphabet is that of ICAO Annex 10 volume II and ITU Radio Regulations appendix 14 (from memory);
the ways to say a digit are common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.resolve.reading.tokens import PAUSE, STOP
from catalog.resolve.reading.words import Word

PHONETIC = {
    "alpha": "a", "alfa": "a", "bravo": "b", "charlie": "c", "delta": "d", "echo": "e", "foxtrot": "f", "golf": "g",
    "hotel": "h", "india": "i", "juliet": "j", "juliett": "j", "kilo": "k", "lima": "l", "mike": "m", "november": "n",
    "oscar": "o", "papa": "p", "quebec": "q", "romeo": "r", "sierra": "s", "tango": "t", "uniform": "u", "victor": "v",
    "whiskey": "w", "whisky": "w", "xray": "x", "yankee": "y", "zulu": "z",
}  # fmt: skip
DIGITS = {
    "zero": "0", "oh": "0", "nought": "0", "naught": "0", "one": "1", "two": "2", "three": "3", "four": "4",
    "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "niner": "9", "fife": "5", "fower": "4",
}  # fmt: skip
_TIMES = {"double": 2, "treble": 3, "triple": 3}
_BETWEEN = frozenset(("dash", "hyphen", "space", "then"))


@dataclass(frozen=True, slots=True)
class Spelt:
    """Characters said at words [start, end), lower case. spoken: some were said as words."""

    text: str
    start: int
    end: int
    spoken: bool

    @property
    def digits(self) -> int:
        return sum("0" <= char <= "9" for char in self.text)


def spelt(words: Sequence[Word], at: int, *, groups: bool) -> Spelt | None:
    """The run of characters that begins at a word, or None.

    groups: words that hold a digit, and short words in capitals, count as groups of characters too.
    """
    text, end, spoken, start = "", at, False, at
    while end < len(words) and len(text) < 40:
        if end > start and words[end].token.parted >= PAUSE and not (spoken and words[end].token.parted < STOP):
            break
        found = _one(words, end, groups=groups)
        if found is None and text and words[end].token.text == "hundred":
            found = ("00", end + 1, True)
        if found is None:
            after = _one(words, end + 1, groups=groups) if end + 1 < len(words) else None
            if not text or words[end].token.text not in _BETWEEN or after is None:
                break
            end += 1
            continue
        chars, end, said = found
        text += chars
        spoken = spoken or said
    return Spelt(text, start, end, spoken) if text else None


def _one(words: Sequence[Word], at: int, *, groups: bool) -> tuple[str, int, bool] | None:
    """(characters, end, whether said as a word) of one word, or of "double four", "x-ray"."""
    text = words[at].token.text
    if text in _TIMES and at + 1 < len(words):
        after = _one(words, at + 1, groups=False)
        return None if after is None or len(after[0]) != 1 else (after[0] * _TIMES[text], after[1], True)
    if text == "x" and at + 1 < len(words) and words[at + 1].token.text == "ray":
        return "x", at + 2, True
    if text in PHONETIC:
        return PHONETIC[text], at + 1, True
    if text in DIGITS:
        return DIGITS[text], at + 1, True
    if not text.isascii():
        return None
    if len(text) == 1 or text.isdigit():
        return text, at + 1, False
    if groups and len(text) <= 17 and (any("0" <= char <= "9" for char in text) or _short_capitals(words[at])):
        return text, at + 1, False
    return None


def _short_capitals(word: Word) -> bool:
    return word.token.upper and len(word.token.text) <= 4
