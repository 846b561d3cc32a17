"""Which question to put next: the one worth most.

Where none is worth its cost because no single answer changes what one would do, the most
informative one is put, in bits; below `least_bits` none is.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from catalog.resolve.cue import ASKED, Cue, Doubt
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.safety import Scene
from catalog.resolve.questions.table import Question, QuestionSet, expert_questions
from catalog.resolve.questions.worth import Worth, weighed


class Stopped(StrEnum):
    """Why nothing is asked. ENOUGH: no answer would change much. NOTHING_SAFE: no question may be put to this
    caller. ASKED: as many as a call can bear were put."""

    NOT = ""
    ENOUGH = "enough"
    NOTHING_SAFE = "nothing_safe"
    ASKED = "asked"


@dataclass(frozen=True, slots=True)
class Asking:
    """scene: where the caller is. put: ids of the questions that were put. cannot: of those, what the caller could
    not tell. limit: most questions."""

    scene: Scene
    put: frozenset[str] = frozenset()
    cannot: frozenset[str] = frozenset()
    limit: int = 3


@dataclass(frozen=True, slots=True)
class Next:
    """questions: the best first. offer_unlisted: whether to offer "treat as not in this catalogue"."""

    questions: tuple[Worth, ...]
    stopped: Stopped
    offer_unlisted: bool


def next_questions(
    result: Posterior, cues: Iterable[Cue], field: Field, asking: Asking, chosen: QuestionSet | None = None
) -> Next:
    """The questions worth putting. cues: all that was understood, answers included."""
    known = chosen or expert_questions()
    if field.tables.size == 0:
        return Next((), Stopped.ENOUGH, True)
    if len(asking.put) >= known.most_asked:
        return Next((), Stopped.ASKED, True)
    open_ = askable(cues, asking, known)
    if not open_:
        return Next((), Stopped.NOTHING_SAFE, False)
    worth = _worthwhile(weighed(result, open_, field, asking.scene, known), known)
    return Next(worth[: asking.limit], Stopped.NOT if worth else Stopped.ENOUGH, False)


def askable(cues: Iterable[Cue], asking: Asking, known: QuestionSet) -> tuple[Question, ...]:
    """What may be put to this caller and is not known already.

    Who could not tell what one end of the vehicle is like is not asked about that end again.
    """
    put = [known.by_id[id_] for id_ in asking.put if id_ in known.by_id]
    told = spoken_of(cues) | {question.attribute for question in put}
    unseen = {question.sees for question in put if question.id in asking.cannot} - {""}
    return tuple(
        question
        for question in known.questions
        if question.attribute not in told and question.sees not in unseen and asking.scene.allows(question.needs)
    )


def spoken_of(cues: Iterable[Cue]) -> frozenset[str]:
    """Attributes that were said of the vehicle asked about, other than as a mere guess or what it is not."""
    said = (cue for cue in cues if cue.vehicle == ASKED and not cue.denied and cue.doubt is not Doubt.GUESS)
    return frozenset(cue.attribute for cue in said)


def _worthwhile(found: list[Worth], known: QuestionSet) -> tuple[Worth, ...]:
    """Those worth their cost, best first; on a plateau the informative ones."""
    worth = [each for each in found if each.voi > 0]
    if worth:
        return tuple(sorted(worth, key=lambda each: (-each.voi, each.question.id)))
    telling = [each for each in found if each.bits >= known.least_bits]
    return tuple(sorted(telling, key=lambda each: (-each.bits, each.question.id)))
