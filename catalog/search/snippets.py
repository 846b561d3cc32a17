"""The piece of a note that shows why it was found.

Whole sentences, so that "never" or "only if" at the head of one is not cut away.
"""

import re
from bisect import bisect_right
from collections.abc import Set
from itertools import pairwise

from catalog.search.port import Snippet
from catalog.search.tokens import Token, tokenise

LENGTH = 240
LONGEST_SENTENCE = 600
_CONTEXT = 200
# An end mark and space, not followed by a small letter ("approx. two", "12.5 mm" go on); or a line's end.
_BREAK = re.compile(r"(?<=[.!?])\s+(?![a-z])|\s*\n\s*")


def snippet(text: str, terms: Set[str]) -> Snippet:
    """(text, is_match) pieces of the passage with most distinct terms, the earliest of equals.

    The beginning of the text when no term is in it; empty for an empty text. An ellipsis
    stands where something was left out.
    """
    passages = _passages(text)
    if not passages:
        return ()
    matches: list[list[Token]] = [[] for _ in passages]
    starts = [start for start, _ in passages]
    for token in tokenise(text):
        if token.text in terms:
            matches[bisect_right(starts, token.start) - 1].append(token)
    best = max(range(len(passages)), key=lambda at: (len({t.text for t in matches[at]}), len(matches[at]), -at))
    return _pieces(text, _trimmed(text, passages[best], matches[best]), matches[best])


def _passages(text: str) -> list[tuple[int, int]]:
    """Runs of whole sentences of at most LENGTH characters; a longer sentence stands alone."""
    made: list[tuple[int, int]] = []
    for start, end in _sentences(text):
        if made and end - made[-1][0] <= LENGTH:
            made[-1] = (made[-1][0], end)
        else:
            made.append((start, end))
    return made


def _sentences(text: str) -> list[tuple[int, int]]:
    edges = [(0, 0), *((found.start(), found.end()) for found in _BREAK.finditer(text)), (len(text), len(text))]
    spans = [(before[1], after[0]) for before, after in pairwise(edges)]
    return [(start, end) for start, end in spans if text[start:end].strip()]


def _trimmed(text: str, passage: tuple[int, int], matches: list[Token]) -> tuple[int, int]:
    """The passage, or of an endless sentence the part around its first match, cut between words."""
    start, end = passage
    if end - start <= LONGEST_SENTENCE:
        return passage
    first = matches[0] if matches else Token("", start, start)
    if first.start - start > _CONTEXT:
        space = text.find(" ", first.start - _CONTEXT, first.start)
        start = space + 1 if space >= 0 else first.start
    limit = max(start + 2 * _CONTEXT, first.end)
    if limit < end:
        space = text.rfind(" ", first.end, limit)
        end = space if space > start else limit
    return start, end


def _pieces(text: str, span: tuple[int, int], matches: list[Token]) -> Snippet:
    start, end = span
    pieces = [("… ", False)] if text[:start].strip() else []
    at = start
    for match in matches:
        if match.start < at or match.end > end:
            continue
        pieces.append((text[at : match.start], False))
        pieces.append((text[match.start : match.end], True))
        at = match.end
    pieces.append((text[at:end], False))
    if text[end:].strip():
        pieces.append((" …", False))
    return tuple(piece for piece in pieces if piece[0])
