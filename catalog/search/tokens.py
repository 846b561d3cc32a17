"""Text -> terms. Portable: a folding table, one list of ranges, no Unicode database, no stemmer.

"The driver's 12.5V cells" -> the, driver, 12.5, v, cells. Used for notes and for queries alike.
"""

import re
from dataclasses import dataclass

from catalog.domain.folding import fold_char

LONGEST_TERM = 64

# What words are made of once folded: ASCII letters and digits, letters beyond ASCII; no general
# punctuation, arrows, symbols, private use or emoji.
_LETTERS = (
    "0-9a-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u1fff\u2c00-\u2dff\u3040-\ud7ff\uf900-\ufdff\ufe70-\ufefe"
    "\U00010000-\U0001cfff\U0001e000-\U0001efff\U00020000-\U0003ffff"
)
_WORD = re.compile(f"[0-9]+[.][0-9]+[{_LETTERS}]*|[{_LETTERS}]+(?:'[{_LETTERS}]+)*")
# "12V" in one guide is "12 V" in the next.
_QUANTITY = re.compile("([0-9]+(?:[.][0-9]+)?)(v|kv|a|ah|w|kw|wh|kwh|mm|cm|m|km|kg|l|bar|nm|c|s|min|h)")


@dataclass(frozen=True, slots=True)
class Token:
    """A term and where it was written: half-open code points of the text as given."""

    text: str
    start: int
    end: int


def tokenise(text: str) -> tuple[Token, ...]:
    """The terms of a text in reading order. Any string is accepted."""
    folded, origins = _folded(text)
    return tuple(
        Token(term[:LONGEST_TERM], origins[first], origins[last - 1] + 1)
        for found in _WORD.finditer(folded)
        for term, first, last in _terms(found)
    )


def _terms(found: re.Match[str]) -> tuple[tuple[str, int, int], ...]:
    """One word's terms with their places in the folded text."""
    word, first, last = found[0], found.start(), found.end()
    if word.endswith("'s"):
        word, last = word[:-2], last - 2
    if quantity := _QUANTITY.fullmatch(word):
        middle = first + len(quantity[1])
        return ((quantity[1], first, middle), (quantity[2], middle, last))
    return ((word.replace("'", ""), first, last),)


def _folded(text: str) -> tuple[str, range | list[int]]:
    """The folded text, and for each of its characters the index it came from."""
    if text.isascii():
        return text.lower(), range(len(text))
    pieces = [fold_char(char) for char in text]
    return "".join(pieces), [at for at, piece in enumerate(pieces) for _ in piece]
