"""What was understood of a description: the text in pieces, each with its underline and meaning.

Spans are code points of the text as given. A piece is the longest run of text that the same cues
cover, so pieces joined give back the text exactly.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace

from catalog.domain.said import SCENE
from catalog.resolve.amending import CORRECTED, GIVEN
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.pieces import Piece, first_of, heading_and_value, kind_of, pieces_of
from catalog.services.views import Answer
from catalog.web.amend import Choice, choices


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
    ordered = sorted(both, key=lambda one: first_of(one[0].cue))
    meanings = tuple(_meaning(view, place, posted, struck=struck) for place, (view, struck) in enumerate(ordered))
    cues = [view.cue for view, _ in ordered]
    hidden = answer.masked
    words = (text[span.start : span.end].strip() for span in answer.unread)
    return Heard(
        pieces_of(text, cues, [meaning.kind for meaning in meanings], hidden),
        meanings,
        tuple(word for word in words if word),
        tuple(span.end - span.start for span in hidden),
        tuple((term.label, answer.scene[term.key]) for term in SCENE.terms if term.key in answer.scene),
    )


def _meaning(view: CueView, place: int, posted: Collection[str] | None, *, struck: bool) -> Meaning:
    heading, value = heading_and_value(view.label)
    state = "struck" if struck else "corrected" if view.origin == CORRECTED else ""
    kind = "struck" if struck else kind_of(view)
    return Meaning(heading, value, kind, view.cue.heard, view.note, place, state, _chosen(view, posted, struck=struck))


def _chosen(view: CueView, posted: Collection[str] | None, *, struck: bool) -> tuple[Choice, ...]:
    """What may be done with a cue. What an answer did to it is no choice of its own: it goes with the answer."""
    made = choices(view, struck=struck)
    if posted is None or any(choice.chosen and (not choice.value or choice.value in posted) for choice in made):
        return made
    return tuple(replace(choice, chosen=place == 0) for place, choice in enumerate(made))
