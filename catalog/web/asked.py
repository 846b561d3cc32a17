"""Ask next, as a page shows it: one question with its keys, and what was answered and ruled out so far."""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.domain.wording import sentence
from catalog.resolve.answering.asked import Answers
from catalog.resolve.answering.question_views import QuestionsView, QuestionView
from catalog.resolve.answering.question_words import WHOM
from catalog.resolve.answering.understood import without_personal
from catalog.resolve.labels import ATTRIBUTE_LABEL
from catalog.resolve.questions.answers import CANNOT_TELL
from catalog.resolve.questions.table import Question, expert_questions
from catalog.services.views import RecordSummary
from catalog.web import wording
from catalog.web.amend import Choice
from catalog.web.posted import BETWEEN

# One key an answer, in order; "can't tell" has its own.
KEYS = "123456789abcdefghijklm"
CANNOT_TELL_KEY = "0"
_NO_QUESTION = QuestionView(id="", ask="", frame="", options=(), cannot_tell="", why="", voi=0.0, bits=0.0)


@dataclass(frozen=True, slots=True)
class AnswerButton:
    """An answer to choose. value: what is posted. key: chooses it while the question has the keyboard.

    points_to: the likeliest vehicle once it is given, often empty.
    """

    value: str
    words: str
    key: str
    points_to: str = ""


@dataclass(frozen=True, slots=True)
class Asking:
    """One question, or why there is none. buttons: none where the answer is a name; the last is "can't tell"."""

    id: str
    ask: str
    frame: str
    why: str
    buttons: tuple[AnswerButton, ...]
    cannot_tell: AnswerButton | None
    whom: str
    advice: str
    said: str
    offer: str


@dataclass(frozen=True, slots=True)
class Told:
    """Something answered or ruled out, with the list of what may be done with it.

    field, key: the form field it is posted in, and its name there. counts: whether it is weighed.
    choices: as it stands, then what takes it back, then the other answers.
    """

    heading: str
    value: str
    field: str
    key: str
    counts: bool
    choices: tuple[Choice, ...]


def asking(view: QuestionsView) -> Asking:
    """The best question of an answer."""
    question = view.questions[0] if view.questions else _NO_QUESTION
    cannot = AnswerButton(f"{question.id}{BETWEEN}{question.cannot_tell}", wording.CANNOT_TELL, CANNOT_TELL_KEY)
    return Asking(
        id=question.id,
        ask=question.ask,
        frame=question.frame,
        why=sentence(question.why),
        buttons=tuple(
            AnswerButton(f"{question.id}{BETWEEN}{option.id}", option.words, key, option.points_to)
            for option, key in zip(question.options, KEYS, strict=False)
        ),
        cannot_tell=cannot if view.questions else None,
        whom=WHOM[view.caller],
        advice=view.advice,
        said=view.said,
        offer=view.offer_unlisted,
    )


def told(answers: Answers, excluded: Sequence[RecordSummary]) -> tuple[Told, ...]:
    """What was answered, then what was ruled out. answers: checked."""
    known = expert_questions().by_id
    return (
        *(_answer(known[id_], answer) for id_, answer in answers.given.items()),
        *(_not_this(record) for record in excluded),
    )


def _answer(question: Question, answer: str) -> Told:
    """An answer struck out is one that could not be told: it does not count and is not asked again."""
    cannot = Choice(f"{question.id}{BETWEEN}{CANNOT_TELL}", wording.ANSWER_OUT, answer == CANNOT_TELL)
    given = [
        Choice(f"{question.id}{BETWEEN}{option.id}", option.words, option.id == answer) for option in question.options
    ]
    if not given and answer != CANNOT_TELL:
        name = without_personal(answer)
        given = [Choice(f"{question.id}{BETWEEN}{name}", name, chosen=True)]
    now = [choice for choice in given if choice.chosen]
    others = [choice for choice in given if not choice.chosen]
    return Told(
        heading=ATTRIBUTE_LABEL.get(question.attribute, question.attribute),
        value=now[0].label if now else wording.CANNOT_TELL,
        field="answer",
        key=question.id,
        counts=bool(now),
        choices=(*now, cannot, *others),
    )


def _not_this(record: RecordSummary) -> Told:
    return Told(
        heading=wording.NOT_THIS.lower(),
        value=f"{record.title}, {record.subtitle}" if record.title else record.code,
        field="not",
        key=record.code,
        counts=True,
        choices=(
            Choice(record.code, wording.NOT_THIS.lower(), chosen=True),
            Choice("", wording.MAY_BE_IT, chosen=False),
        ),
    )
