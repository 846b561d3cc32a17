"""Ask next: the questions worth putting, in words."""

from collections.abc import Sequence

from catalog.resolve.answering import question_words as words
from catalog.resolve.answering.asked import Answers
from catalog.resolve.answering.question_views import OptionView, QuestionsView, QuestionView
from catalog.resolve.brief_facts import FACTS
from catalog.resolve.cue import Reading
from catalog.resolve.explain import tells_apart
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.answers import CANNOT_TELL
from catalog.resolve.questions.choosing import Asking, next_questions
from catalog.resolve.questions.pointing import points_to
from catalog.resolve.questions.safety import Caller, scene_of
from catalog.resolve.questions.table import expert_questions
from catalog.resolve.questions.worth import Worth

_SHOWN = 3
_POINTED = 10  # answers


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
