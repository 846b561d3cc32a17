"""Answers as cues, and as amendments of what was read. "Can't tell" adds none, and is not asked again."""

from collections.abc import Iterable, Mapping

from catalog.resolve.amending import Amendments, Given, Key, key_of
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


def answered(cues: Iterable[Cue], answers: Iterable[Cue]) -> Amendments:
    """What answers make of a reading: each takes the place of what was only guessed of the same thing."""
    guesses: dict[str, list[Cue]] = {}
    for cue in cues:
        if cue.vehicle == ASKED and not cue.denied and cue.doubt is Doubt.GUESS:
            guesses.setdefault(cue.attribute, []).append(cue)
    struck: list[Key] = []
    given = []
    for answer in answers:
        first, *more = guesses.get(answer.attribute, [None])
        given.append(Given(answer, None if first is None else key_of(first)))
        struck += [key_of(guess) for guess in more if guess is not None]
    return Amendments(tuple(struck), tuple(given))


def not_this(code: str) -> Cue:
    """ "Not this vehicle": speaks against one record, and is no certainty."""
    return Cue(RECORD, (code,), (), code, denied=True)
