"""An answer as the responder's app shows it: plain words and numbers, ready to be sent."""

from collections.abc import Mapping
from dataclasses import dataclass

from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.pieces import kind_of
from catalog.resolve.answering.question_views import QuestionsView
from catalog.resolve.answering.rows import Row
from catalog.resolve.answering.scale import Share
from catalog.services.views import Answer
from catalog.web.answers import Results


@dataclass(frozen=True, slots=True)
class Understood:
    """A cue as a chip. key: how to name it again, to strike it out. origin: read, corrected or given (tapped)."""

    label: str
    kind: str
    note: str
    origin: str
    key: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Option:
    """An answer to choose. points_to: the likeliest vehicle once it is given, often empty."""

    id: str
    words: str
    points_to: str


@dataclass(frozen=True, slots=True)
class Ask:
    """What to ask next. options: empty where the answer is a name. said: why nothing is asked."""

    id: str
    ask: str
    frame: str
    why: str
    options: tuple[Option, ...]
    cannot_tell: str
    said: str
    offer: str
    advice: str


@dataclass(frozen=True, slots=True)
class SearchView:
    """rows, unlisted and others share one scale of ten; rows are empty where nothing said can rank."""

    understood: tuple[Understood, ...]
    struck: tuple[Understood, ...]
    unread: tuple[str, ...]
    masked: int
    danger: str
    rows: tuple[Row, ...]
    unlisted: Share
    others: Share | None
    message: str
    warnings: tuple[str, ...]
    rates: str
    status: str
    ask: Ask | None


def search_view(answer: Answer, found: Results) -> SearchView:
    """The view of one answer."""
    return SearchView(
        understood=tuple(_understood(view) for view in answer.cues),
        struck=tuple(_understood(view, "struck") for view in answer.struck),
        unread=found.heard.unread,
        masked=len(found.heard.masked),
        danger=found.danger,
        rows=found.rows,
        unlisted=found.unlisted,
        others=found.others,
        message=found.message,
        warnings=found.warnings,
        rates=found.rates,
        status=found.status,
        ask=_ask(answer.questions) if answer.questions else None,
    )


def _understood(view: CueView, kind: str = "") -> Understood:
    attribute, values, denied, vehicle = view.instead_of or view.cue.key
    key = {"attribute": attribute, "values": list(values), "denied": denied, "vehicle": vehicle}
    return Understood(view.label, kind or kind_of(view), view.note, view.origin, key)


def _ask(view: QuestionsView) -> Ask | None:
    first = view.questions[0] if view.questions else None
    if first is None:
        return Ask("", "", "", "", (), "", view.said, view.offer_unlisted, view.advice)
    options = tuple(Option(option.id, option.words, option.points_to) for option in first.options)
    return Ask(
        first.id,
        first.ask,
        first.frame,
        first.why,
        options,
        first.cannot_tell,
        view.said,
        view.offer_unlisted,
        view.advice,
    )
