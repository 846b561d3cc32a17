"""The search on a phone: what was typed, tapped and answered, to one view of everything the page shows.

The same arithmetic and the same words as the server's search pages, from the same functions.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.device.phone.asked import Asked
from catalog.device.phone.asking import AskView, ask_view
from catalog.plan.proposed import proposed_scene
from catalog.plan.scene import FIELDS
from catalog.resolve.amending import GIVEN, Amendments, Key
from catalog.resolve.answering import notes
from catalog.resolve.answering.candidates import Candidate, candidate, shown, warnings
from catalog.resolve.answering.chances import chance_of
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.danger import danger_line
from catalog.resolve.answering.groups import groups_of
from catalog.resolve.answering.pieces import Piece, first_of, heading_and_value, kind_of, pieces_of
from catalog.resolve.answering.questions import questions_of
from catalog.resolve.answering.rows import Row
from catalog.resolve.answering.scale import FIRST, Scale, Share, scaled, status
from catalog.resolve.answering.understood import Told, Understood, understood
from catalog.resolve.cue import Span
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.questions.answers import answered

ANY_TITLE = "Steps for any vehicle"
ANY_WORDS = "whatever it turns out to be"


@dataclass(frozen=True, slots=True)
class Chip:
    """One thing understood: "body" "pickup". kind: its underline, as in `Piece`. note: why it does not rank, or how it
    was taken. given: tapped or answered, no word of the text. key: names it where it is struck out. spans: half-open,
    in code points of the text."""

    heading: str
    value: str
    kind: str
    note: str
    given: bool
    key: Key
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class SearchView:
    """Everything the page shows. text: with what is masked blanked; pieces joined give it back.

    chips: in the order of the text, then what was tapped or answered; a piece's meanings are their numbers. struck:
    what was read and is left out. unread: words nothing was made of. masked: how many numbers, names and addresses are
    not used. rows: none when nothing said can rank; message then says what to say. others: the vehicles not shown.
    scene: as proposed and answered, field -> yes or no. ask: None where it was not asked for. state: what the
    probabilities rest on: expert, simulated or field; rests: the same with why. status: for a screen reader.
    """

    text: str
    pieces: tuple[Piece, ...]
    chips: tuple[Chip, ...]
    struck: tuple[Chip, ...]
    unread: tuple[str, ...]
    masked: int
    rows: tuple[Row, ...]
    unlisted: Share
    others: Share | None
    message: str
    warnings: tuple[str, ...]
    danger: str
    any_title: str
    any_words: str
    scene: dict[str, str]
    ask: AskView | None
    state: str
    rests: str
    status: str


def answer(field: Field, asked: Asked) -> SearchView:
    """The whole answer. The text of at most 2,000 characters, answers and scene of those there are."""
    found = understood(Told(asked.text, asked.driving_side, _amendments(asked), asked.answers), field)
    result = posterior(found.evidence, field)
    reading = found.reading
    places = shown(result, FIRST)
    scale = _scale(field, asked, result, places)
    questions = questions_of(result, reading, field, asked.answers) if asked.questions else None
    ask = None if questions is None else ask_view(questions)
    message = notes.message(asked.text, reading, result)
    views = _in_order(found)
    chips = tuple(_chip(view, kind_of(view)) for view in views)
    words = (found.text[span.start : span.end].strip() for span in reading.unread)
    return SearchView(
        text=found.text,
        pieces=pieces_of(found.text, [view.cue for view in views], [chip.kind for chip in chips], reading.masked),
        chips=chips,
        struck=tuple(_chip(view, "struck") for view in found.struck),
        unread=tuple(word for word in words if word),
        masked=len(reading.masked),
        rows=scale.rows,
        unlisted=scale.unlisted,
        others=scale.others,
        message=message,
        warnings=(*found.warnings, *warnings(places, field, result)),
        danger=danger_line(reading.cues, asked.scene),
        any_title=ANY_TITLE,
        any_words=ANY_WORDS,
        scene=_scene(reading.scene, asked),
        ask=ask,
        state=field.parameters.origin,
        rests=field.parameters.calibration,
        status=status(scale, message, "" if ask is None else ask.ask),
    )


def _amendments(asked: Asked) -> Amendments:
    taps = answered((), asked.taps)
    return Amendments(asked.struck, taps.cues)


def _scale(field: Field, asked: Asked, result: Posterior, places: Sequence[int]) -> Scale:
    groups = groups_of(result, field) if places else None
    known: dict[str, Candidate] = {}
    for place in places:
        one = candidate(place, result, field, in_bits=False)
        known[one.code] = one
    return scaled(groups, chance_of(result.unlisted), field.tables.size, known, asked.every)


def _in_order(found: Understood) -> list[CueView]:
    """In the order of the text, what is no word of it last."""
    return sorted(found.cues, key=lambda view: (not view.cue.spans, first_of(view.cue)))


def _chip(view: CueView, kind: str) -> Chip:
    heading, value = heading_and_value(view.label)
    given = view.origin == GIVEN and not view.cue.spans
    return Chip(heading, value, kind, view.note, given, view.cue.key, view.cue.spans)


def _scene(said: dict[str, str], asked: Asked) -> dict[str, str]:
    """As the words say, put right by what was answered."""
    proposed = proposed_scene(said)
    known = {key: proposed.said(key).value for key in FIELDS} | {**asked.scene}
    return {key: value for key, value in known.items() if value in ("yes", "no")}
