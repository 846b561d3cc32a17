"""Questions as lines: to be read, or to be answered by number."""

from collections.abc import Iterator

from catalog.cli.paper import Paper
from catalog.resolve.answering.question_views import QuestionsView, QuestionView
from catalog.resolve.answering.question_words import CANNOT_TELL
from catalog.services.views import Answer, RecordSummary

_COLUMN, _HEARD = 34, 28


def questions_lines(view: QuestionsView, paper: Paper) -> Iterator[str]:
    """What to ask next, why, and what may be answered."""
    yield paper.heading("Ask next")
    yield from paper.wrap(view.advice, 2)
    for question in view.questions:
        yield from paper.entry(_asked(question), f"{_answers(question)} [{question.id}]", column=_COLUMN)
        yield from paper.entry("", f"{question.why} ({question.bits:.1f} bits)", column=_COLUMN)
    yield from over_lines(view, paper)
    yield ""


def over_lines(view: QuestionsView, paper: Paper) -> Iterator[str]:
    """Why nothing is asked, and what to do instead."""
    for said in (view.said, view.offer_unlisted):
        if said:
            yield from paper.wrap(said, 2)


def question_lines(answer: Answer, view: QuestionsView, paper: Paper) -> Iterator[str]:
    """One question to be answered, below how things stand."""
    question = view.questions[0]
    yield from paper.wrap(_standing(answer))
    yield from paper.wrap(view.advice)
    yield ""
    yield paper.heading(_asked(question))
    yield from paper.wrap(f"({question.why})", 2)
    for number, option in enumerate(question.options, 1):
        yield f"  {number:2}  {option.words}"
    if not question.options:
        yield from paper.wrap("Type the name as heard.", 2)
    yield f"   0  {CANNOT_TELL}"


def excluded_lines(excluded: tuple[RecordSummary, ...], paper: Paper) -> Iterator[str]:
    """The records said not to be it."""
    for record in excluded:
        title = record.title or "not in this edition"
        yield from paper.entry(
            "not this vehicle", f"{title} [{record.code}]: far less likely, not ruled out", column=_HEARD
        )
    if excluded:
        yield ""


def _asked(question: QuestionView) -> str:
    return f"{question.ask} ({question.frame})" if question.frame else question.ask


def _answers(question: QuestionView) -> str:
    said = [option.words for option in question.options] or ["the name as heard"]
    return " / ".join([*said, CANNOT_TELL])


def _standing(answer: Answer) -> str:
    unlisted = f"Not in this catalogue: {answer.unlisted.frequency}."
    if not answer.candidates:
        return f"Nothing said tells one vehicle from another yet. {unlisted}"
    first = answer.candidates[0]
    return f"First of the possible vehicles: {first.title}, {first.chance.word}, {first.chance.frequency}. {unlisted}"
