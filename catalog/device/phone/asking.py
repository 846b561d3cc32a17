"""Ask next, as a phone shows it: one question and its answers."""

from dataclasses import dataclass

from catalog.domain.wording import sentence
from catalog.resolve.answering.question_views import QuestionsView
from catalog.resolve.answering.question_words import CANNOT_TELL as CANNOT_TELL_WORDS


@dataclass(frozen=True, slots=True)
class AnswerView:
    """An answer to choose. id: as it is kept in `Asked.answers`. points_to: the likeliest vehicle once it is given,
    often empty."""

    id: str
    words: str
    points_to: str


@dataclass(frozen=True, slots=True)
class AskView:
    """One question, or why there is none. id: "" for none. frame: how sides are meant, to be shown with it.

    answers: the last is "can't tell"; with `named` the answer is a name in one's own words, kept as it is.
    said: why nothing is asked. offer: what to do instead of asking on, often empty.
    """

    id: str
    ask: str
    frame: str
    why: str
    answers: tuple[AnswerView, ...]
    named: bool
    advice: str
    said: str
    offer: str


def ask_view(view: QuestionsView) -> AskView:
    """The best question of an answer."""
    if not view.questions:
        return AskView("", "", "", "", (), False, view.advice, view.said, view.offer_unlisted)
    first = view.questions[0]
    cannot = AnswerView(first.cannot_tell, CANNOT_TELL_WORDS, "")
    answers = tuple(AnswerView(option.id, option.words, option.points_to) for option in first.options)
    return AskView(
        id=first.id,
        ask=first.ask,
        frame=first.frame,
        why=sentence(first.why),
        answers=(*answers, cannot),
        named=not first.options,
        advice=view.advice,
        said=view.said,
        offer=view.offer_unlisted,
    )
