"""Answers as cues. "Can't tell" adds none, and is not asked again."""

from collections.abc import Iterable, Mapping

from catalog.resolve.cue import ASKED, RECORD, Cue, Doubt
from catalog.resolve.questions.table import QuestionSet

CANNOT_TELL = "cannot_tell"


def answer_cues(answers: Mapping[str, str], known: QuestionSet) -> tuple[Cue, ...]:
    """The cues of options chosen. answers: question id -> option id or `CANNOT_TELL`.

    Questions that are answered with a name have no options: their answers are read as text. Raises
    KeyError for an unknown question or option.
    """
    made = []
    for id_, answer in sorted(answers.items()):
        question = known.by_id[id_]
        if answer == CANNOT_TELL:
            continue
        option = question.option(answer)
        if option is None:
            raise KeyError(answer)
        made.append(question.cue_of(option))
    return tuple(made)


def with_answers(cues: Iterable[Cue], answers: Iterable[Cue]) -> tuple[Cue, ...]:
    """All cues together: an answer takes the place of what was only guessed of the same thing."""
    told = tuple(answers)
    settled = {cue.attribute for cue in told if not cue.denied}
    kept = [cue for cue in cues if not (cue.attribute in settled and _is_guess(cue))]
    return (*kept, *told)


def _is_guess(cue: Cue) -> bool:
    return cue.vehicle == ASKED and not cue.denied and cue.doubt is Doubt.GUESS


def not_this(code: str) -> Cue:
    """ "Not this vehicle": speaks against one record, and is no certainty."""
    return Cue(RECORD, (code,), (), code, denied=True)
