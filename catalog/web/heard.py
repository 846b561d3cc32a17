"""What was understood of a description: the text in pieces, each with its underline and meaning.

Spans are code points of the text as given. A piece is the longest run of text that the same cues
cover, so pieces joined give back the text exactly.
"""

import itertools
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from catalog.domain.said import SCENE
from catalog.resolve.amending import CORRECTED, GIVEN
from catalog.resolve.cue import ASKED, Cue, Doubt, Span
from catalog.resolve.labels import ATTRIBUTE_LABEL
from catalog.services.views import Answer, CueView
from catalog.web.amend import Choice, choices

# Which underline wins where two cues share a word.
_RANK = ("scene", "hedged", "looks", "unused", "other", "struck")
_NAME_HEADINGS = ("make", "model", "variant", "badge", "name")
_HEADINGS = sorted({*ATTRIBUTE_LABEL.values(), *_NAME_HEADINGS}, key=len, reverse=True)


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of the text. kind: "" not read, "looks", "scene", "hedged", "unused", "other", "struck", "masked".

    meanings: positions in `Heard.meanings` whose leader hangs from the start of this piece.
    """

    text: str
    kind: str
    meanings: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Meaning:
    """One understood cue: "body" "pickup", from the words heard, with why it may not rank.

    place: its number in `Heard.meanings`. state: "", "corrected" or "struck". choices: what may be done with it.
    """

    heading: str
    value: str
    kind: str
    heard: str
    note: str
    place: int = 0
    state: str = ""
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class Heard:
    """A description as read. unread: words nothing was made of, in order. masked: how long each is.

    scene: the proposed scene, ("on fire", "yes") and so on.
    """

    pieces: tuple[Piece, ...]
    meanings: tuple[Meaning, ...]
    unread: tuple[str, ...]
    masked: tuple[int, ...] = ()
    scene: tuple[tuple[str, str], ...] = ()

    @property
    def own(self) -> tuple[Meaning, ...]:
        return tuple(meaning for meaning in self.meanings if meaning.kind != "other")

    @property
    def others(self) -> tuple[Meaning, ...]:
        """What was said of another vehicle."""
        return tuple(meaning for meaning in self.meanings if meaning.kind == "other")


def heard(answer: Answer, posted: Collection[str] | None = None) -> Heard:
    """Split the text. Cues may share words; spans outside the text are ignored.

    posted: the choices that stand, None for any. What was only answered, and is no word of the text, is not in it.
    """
    text = answer.text
    read = [view for view in answer.cues if view.origin != GIVEN or view.cue.spans]
    both = [(view, False) for view in read] + [(view, True) for view in answer.struck]
    ordered = sorted(both, key=lambda one: _first(one[0].cue))
    meanings = tuple(_meaning(view, place, posted, struck=struck) for place, (view, struck) in enumerate(ordered))
    cues = [view.cue for view, _ in ordered]
    spans = [span for cue in cues for span in cue.spans] + list(answer.masked)
    edges = sorted(
        {0, len(text), *(edge for span in spans for edge in (span.start, span.end) if 0 <= edge <= len(text))}
    )
    hidden = answer.masked
    pieces = [
        _piece(text, Span(start, end), cues, meanings, hidden)
        for start, end in itertools.pairwise(edges)
        if end > start
    ]
    words = (text[span.start : span.end].strip() for span in answer.unread)
    return Heard(
        tuple(pieces),
        meanings,
        tuple(word for word in words if word),
        tuple(span.end - span.start for span in hidden),
        tuple((term.label, answer.scene[term.key]) for term in SCENE.terms if term.key in answer.scene),
    )


def kind_of(view: CueView) -> str:
    """The underline of a cue."""
    if view.cue.vehicle != ASKED:
        return "other"
    if view.cue.attribute == "scene":
        return "scene"
    if not view.ranks:
        return "unused"
    return "looks" if view.cue.doubt is Doubt.FIRM else "hedged"


def _piece(text: str, at: Span, cues: Sequence[Cue], meanings: Sequence[Meaning], hidden: Sequence[Span]) -> Piece:
    covering = {meaning.kind for cue, meaning in zip(cues, meanings, strict=True) if _covers(cue.spans, at)}
    kind = "masked" if _covers(hidden, at) else next((kind for kind in _RANK if kind in covering), "")
    begins = tuple(place for place, cue in enumerate(cues) if cue.spans and _first(cue) == at.start)
    return Piece(text[at.start : at.end], kind, begins)


def _covers(spans: Sequence[Span], at: Span) -> bool:
    return any(span.start <= at.start and at.end <= span.end for span in spans)


def _first(cue: Cue) -> int:
    return min((span.start for span in cue.spans), default=0)


def _meaning(view: CueView, place: int, posted: Collection[str] | None, *, struck: bool) -> Meaning:
    lead, label = _lead(view.label.removeprefix("other vehicle "))
    heading = next((known for known in _HEADINGS if label == known or label.startswith(known + " ")), "")
    value = f"{lead}{label[len(heading) :].strip()}"
    state = "struck" if struck else "corrected" if view.origin == CORRECTED else ""
    kind = "struck" if struck else kind_of(view)
    return Meaning(heading, value, kind, view.cue.heard, view.note, place, state, _chosen(view, posted, struck=struck))


def _chosen(view: CueView, posted: Collection[str] | None, *, struck: bool) -> tuple[Choice, ...]:
    """What may be done with a cue. What an answer did to it is no choice of its own: it goes with the answer."""
    made = choices(view, struck=struck)
    if posted is None or any(choice.chosen and (not choice.value or choice.value in posted) for choice in made):
        return made
    return tuple(replace(choice, chosen=place == 0) for place, choice in enumerate(made))


def _lead(label: str) -> tuple[str, str]:
    """ "not perhaps body van" -> ("not perhaps ", "body van"): doubt and denial go with the value."""
    lead = ""
    for word in ("not ", "perhaps "):
        if label.startswith(word):
            lead, label = lead + word, label[len(word) :]
    return lead, label
