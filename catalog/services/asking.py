"""Ask next: the questions worth putting, in words, and what was answered so far.

Nothing is kept between requests: whoever asks sends every answer again, "can't tell" included, so
that it is not asked twice.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from catalog.domain import codes
from catalog.errors import BadInput
from catalog.resolve.amending import Amendments
from catalog.resolve.brief_facts import FACTS
from catalog.resolve.cue import Cue, Reading
from catalog.resolve.explain import tells_apart
from catalog.resolve.field import Field
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.answers import CANNOT_TELL, answer_cues, answered, not_this
from catalog.resolve.questions.choosing import Asking, next_questions
from catalog.resolve.questions.pointing import points_to
from catalog.resolve.questions.safety import Caller, scene_of
from catalog.resolve.questions.table import Question, expert_questions
from catalog.resolve.questions.worth import Worth
from catalog.resolve.reading.reader import read
from catalog.services import asking_words as words
from catalog.services.asking_views import OptionView, QuestionsView, QuestionView

CALLERS = tuple(caller.value for caller in Caller)
LONGEST_NAME = 60
_SHOWN = 3
_POINTED = 10  # answers


@dataclass(frozen=True, slots=True)
class Answers:
    """given: question id -> option id, "cannot_tell", or a name in the caller's words. excluded: codes of "not
    this vehicle", in any spelling. caller: where who answers is, one of CALLERS; None: as the text says."""

    given: Mapping[str, str] = field(default_factory=dict)
    excluded: tuple[str, ...] = ()
    caller: str | None = None


NO_ANSWERS = Answers()


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


def amendments(answers: Answers, reading: Reading, lexicon: Lexicon, driving_side: str) -> Amendments:
    """What the answers, once checked, make of a reading."""
    known = expert_questions()
    named = {id_: answer for id_, answer in answers.given.items() if not known.by_id[id_].options}
    chosen = {id_: answer for id_, answer in answers.given.items() if id_ not in named}
    names = [cue for name in named.values() if name != CANNOT_TELL for cue in _name_cues(name, lexicon, driving_side)]
    return answered(reading.cues, (*answer_cues(chosen, known), *names))


def _name_cues(name: str, lexicon: Lexicon, driving_side: str) -> list[Cue]:
    """The names in an answer; none in "no idea"."""
    found = read(f"badge reads {name}", lexicon, driving_side)
    return [replace(cue, spans=()) for cue in found.cues if cue.attribute == "name"]


def exclusions(answers: Answers) -> tuple[Cue, ...]:
    """The cues of "not this vehicle"."""
    return tuple(not_this(code) for code in sorted({codes.parse(code) or code for code in answers.excluded}))


def questions_of(result: Posterior, reading: Reading, where: Field, answers: Answers) -> QuestionsView:
    """What to ask next."""
    scene = scene_of(reading.cues, None if answers.caller is None else Caller(answers.caller))
    cannot = frozenset(id_ for id_, answer in answers.given.items() if answer == CANNOT_TELL)
    asking = Asking(scene, frozenset(answers.given), cannot, _SHOWN)
    found = next_questions(result, reading.cues, where, asking)
    return QuestionsView(
        # Only the first is put; the others would cost as much again and be said to nobody.
        questions=tuple(
            _view(worth, () if place else _pointing(worth, result, where))
            for place, worth in enumerate(found.questions)
        ),
        caller=scene.caller.value,
        advice=words.advice(scene),
        stopped=found.stopped.value,
        said=words.stopped(found.stopped, scene),
        offer_unlisted=words.UNLISTED if found.offer_unlisted else "",
    )


def _pointing(worth: Worth, result: Posterior, where: Field) -> tuple[str, ...]:
    """What each answer points to, in words: nothing where no vehicle is about even or likelier once it is given.

    Of more answers than can be read nothing is said either.
    """
    if not tells_apart(result) or len(worth.question.options) > _POINTED:
        return ()
    titles = where.tables.meta["titles"]
    return tuple(
        words.points_to(pointed.chance, None if pointed.position is None else titles[pointed.position])
        for pointed in points_to(worth.question, result, where, expert_questions())
    )


def _view(worth: Worth, pointing: Sequence[str]) -> QuestionView:
    question = worth.question
    return QuestionView(
        id=question.id,
        ask=question.ask,
        frame=question.frame,
        options=tuple(
            OptionView(option.id, option.words, question.attribute, option.values, points)
            for option, points in zip(question.options, pointing or [""] * len(question.options), strict=True)
        ),
        cannot_tell=CANNOT_TELL,
        why=words.why([FACTS[place].label for place in worth.settles]),
        voi=worth.voi,
        bits=worth.bits,
    )
