"""What was understood of a text, in pieces of the text, and each cue as a heading and a value.

Spans are code points of the text as given. A piece is the longest run of text that the same cues
cover, so pieces joined give back the text exactly.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.cue import ASKED, Cue, Doubt, Span
from catalog.resolve.labels import ATTRIBUTE_LABEL

# Which underline wins where two cues share a word.
_RANK = ("scene", "hedged", "looks", "unused", "other", "struck")
_NAME_HEADINGS = ("make", "model", "variant", "badge", "name")
_HEADINGS = sorted({*ATTRIBUTE_LABEL.values(), *_NAME_HEADINGS}, key=len, reverse=True)


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of the text. kind: "" not read, "looks", "scene", "hedged", "unused", "other", "struck", "masked".

    meanings: numbers of the cues whose leader hangs from the start of this piece.
    """

    text: str
    kind: str
    meanings: tuple[int, ...] = ()


def kind_of(view: CueView) -> str:
    """The underline of a cue."""
    if view.cue.vehicle != ASKED:
        return "other"
    if view.cue.attribute == "scene":
        return "scene"
    if not view.ranks:
        return "unused"
    return "looks" if view.cue.doubt is Doubt.FIRM else "hedged"


def pieces_of(text: str, cues: Sequence[Cue], kinds: Sequence[str], hidden: Sequence[Span]) -> tuple[Piece, ...]:
    """Split a text. kinds: the underline of each cue. hidden: what is masked. Cues may share words; spans outside the
    text are ignored."""
    spans = [span for cue in cues for span in cue.spans] + list(hidden)
    edges = sorted(
        {0, len(text), *(edge for span in spans for edge in (span.start, span.end) if 0 <= edge <= len(text))}
    )
    return tuple(_piece(text, Span(start, end), cues, kinds, hidden) for start, end in pairwise(edges) if end > start)


def heading_and_value(label: str) -> tuple[str, str]:
    """ "not perhaps body van" -> ("body", "not perhaps van"): doubt and denial go with the value."""
    lead, rest = _lead(label.removeprefix("other vehicle "))
    heading = next((known for known in _HEADINGS if rest == known or rest.startswith(known + " ")), "")
    return heading, f"{lead}{rest[len(heading) :].strip()}"


def first_of(cue: Cue) -> int:
    """Where in the text a cue begins; 0 where it is not of the text."""
    return min((span.start for span in cue.spans), default=0)


def _piece(text: str, at: Span, cues: Sequence[Cue], kinds: Sequence[str], hidden: Sequence[Span]) -> Piece:
    covering = {kind for cue, kind in zip(cues, kinds, strict=True) if _covers(cue.spans, at)}
    kind = "masked" if _covers(hidden, at) else next((kind for kind in _RANK if kind in covering), "")
    begins = tuple(place for place, cue in enumerate(cues) if cue.spans and first_of(cue) == at.start)
    return Piece(text[at.start : at.end], kind, begins)


def _covers(spans: Sequence[Span], at: Span) -> bool:
    return any(span.start <= at.start and at.end <= span.end for span in spans)


def _lead(label: str) -> tuple[str, str]:
    """ "not perhaps body van" -> ("not perhaps ", "body van"): doubt and denial go with the value."""
    lead = ""
    for word in ("not ", "perhaps "):
        if label.startswith(word):
            lead, label = lead + word, label[len(word) :]
    return lead, label
