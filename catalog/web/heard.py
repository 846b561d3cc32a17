"""What was understood of a description: the text in pieces, each with its underline and meaning.

Spans are code points of the text as given. A piece is the longest run of text that the same cues
cover, so pieces joined give back the text exactly.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from catalog.resolve.cue import Cue, Doubt, Span
from catalog.resolve.labels import ATTRIBUTE_LABEL
from catalog.services.views import CueView

# Which underline wins where two cues share a word.
_RANK = ("scene", "hedged", "looks", "unused")
_NAME_HEADINGS = ("make", "model", "variant", "badge", "name")
_HEADINGS = sorted({*ATTRIBUTE_LABEL.values(), *_NAME_HEADINGS}, key=len, reverse=True)


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of the text. kind: "" not read, "looks", "scene", "hedged", "unused".

    meanings: positions in `Heard.meanings` whose leader hangs from the start of this piece.
    """

    text: str
    kind: str
    meanings: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Meaning:
    """One understood cue: "body" "pickup", from the words heard, with why it may not rank."""

    heading: str
    value: str
    kind: str
    heard: str
    note: str


@dataclass(frozen=True, slots=True)
class Heard:
    """A description as read. unread: words nothing was made of, in order."""

    pieces: tuple[Piece, ...]
    meanings: tuple[Meaning, ...]
    unread: tuple[str, ...]


def heard(text: str, cues: Sequence[CueView], unread: Sequence[Span]) -> Heard:
    """Split the text. Cues may share words; spans outside the text are ignored."""
    ordered = sorted(cues, key=lambda view: _first(view.cue))
    meanings = tuple(_meaning(view) for view in ordered)
    edges = sorted({0, len(text), *(edge for view in ordered for edge in _edges(view.cue, len(text)))})
    pieces = [_piece(text, (start, end), ordered, meanings) for start, end in itertools.pairwise(edges) if end > start]
    words = (text[span.start : span.end].strip() for span in unread)
    return Heard(tuple(pieces), meanings, tuple(word for word in words if word))


def kind_of(view: CueView) -> str:
    """The underline of a cue."""
    if view.cue.attribute == "scene":
        return "scene"
    if not view.ranks:
        return "unused"
    return "looks" if view.cue.doubt is Doubt.FIRM else "hedged"


def _piece(text: str, at: tuple[int, int], ordered: Sequence[CueView], meanings: Sequence[Meaning]) -> Piece:
    start, end = at
    covering = {
        meaning.kind
        for view, meaning in zip(ordered, meanings, strict=True)
        if any(span.start <= start and end <= span.end for span in view.cue.spans)
    }
    begins = tuple(place for place, view in enumerate(ordered) if _first(view.cue) == start and view.cue.spans)
    return Piece(text[start:end], next((kind for kind in _RANK if kind in covering), ""), begins)


def _first(cue: Cue) -> int:
    return min((span.start for span in cue.spans), default=0)


def _edges(cue: Cue, length: int) -> list[int]:
    return [edge for span in cue.spans for edge in (span.start, span.end) if 0 <= edge <= length]


def _meaning(view: CueView) -> Meaning:
    lead, label = _lead(view.label)
    heading = next((known for known in _HEADINGS if label == known or label.startswith(known + " ")), "")
    value = f"{lead}{label[len(heading) :].strip()}"
    return Meaning(heading, value, kind_of(view), view.cue.heard, view.note)


def _lead(label: str) -> tuple[str, str]:
    """ "not perhaps body van" -> ("not perhaps ", "body van"): doubt and denial go with the value."""
    lead = ""
    for word in ("other vehicle ", "not ", "perhaps "):
        if label.startswith(word):
            lead, label = lead + word, label[len(word) :]
    return lead, label
