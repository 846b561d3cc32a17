"""Answers to questions, checked as they come in."""

from catalog.domain import codes
from catalog.errors import BadInput
from catalog.resolve.answering.asked import Answers
from catalog.resolve.questions.answers import CANNOT_TELL
from catalog.resolve.questions.safety import Caller
from catalog.resolve.questions.table import Question, expert_questions

CALLERS = tuple(caller.value for caller in Caller)
LONGEST_NAME = 60


def check(answers: Answers) -> None:
    """Raises BadInput for a question, an option, a code or a place that there is not."""
    known = expert_questions().by_id
    for id_, answer in answers.given.items():
        if id_ not in known:
            raise BadInput(f"There is no question {id_!r}.", cure=f"Use one of: {', '.join(known)}.")
        _check_answer(known[id_], answer)
    for code in answers.excluded:
        if codes.parse(code) is None:
            raise BadInput(f"{code!r} is not a record code.", cure="Check the code: six characters, the last a check.")
    if answers.caller is not None and answers.caller not in CALLERS:
        raise BadInput(f"caller is {answers.caller!r}.", cure=f"Use one of: {', '.join(CALLERS)}; or leave it out.")


def _check_answer(question: Question, answer: str) -> None:
    if not question.options:
        if not answer.strip() or len(answer) > LONGEST_NAME:
            raise BadInput(
                f"The answer to {question.id!r} has {len(answer)} characters.",
                cure=f"Give the name as heard, at most {LONGEST_NAME} characters, or {CANNOT_TELL}.",
            )
    elif answer != CANNOT_TELL and question.option(answer) is None:
        options = ", ".join(option.id for option in question.options)
        raise BadInput(f"{question.id!r} has no answer {answer!r}.", cure=f"Use one of: {options}, {CANNOT_TELL}.")
