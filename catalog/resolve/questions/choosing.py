"""Which question to put next.

Worth: VOI = (1 - d) (L(p) - sum_o P(o) L(p | o)) - cost, d being the share of callers there who
cannot tell. Where no question is worth its cost because no single answer changes what one would
do, the most informative one is asked, in bits; below `least_bits` none is.
"""

from collections.abc import Iterable, Set
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from catalog.resolve.cue import ASKED, Cue, Doubt
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.loss import WEIGHTS, Stakes, losses, stakes
from catalog.resolve.questions.name_outcomes import name_outcomes
from catalog.resolve.questions.outcomes import Outcomes, outcomes
from catalog.resolve.questions.safety import Scene
from catalog.resolve.questions.standing import Standing, standing
from catalog.resolve.questions.table import Question, QuestionSet, expert_questions
from catalog.resolve.said import entropy
from catalog.resolve.scorer import Vector

_NAMED = 0.0005  # of all that may be lost: a fact that gains less is not told of


class Stopped(StrEnum):
    """Why nothing is asked. ENOUGH: no answer would change much. NOTHING_SAFE: no question may be put to this
    caller. ASKED: as many as a call can bear were put."""

    NOT = ""
    ENOUGH = "enough"
    NOTHING_SAFE = "nothing_safe"
    ASKED = "asked"


@dataclass(frozen=True, slots=True)
class Asking:
    """put: ids of the questions that were put, answered or not. scene: where the caller is. limit: most questions."""

    scene: Scene
    put: frozenset[str] = frozenset()
    limit: int = 3


@dataclass(frozen=True, slots=True)
class Worth:
    """A question weighed. voi: in shares of all that may be lost, cost taken off. bits: information it is
    expected to give, over those who cannot tell as well. settles: positions in FACTS of what it helps with most.
    """

    question: Question
    voi: float
    bits: float
    settles: tuple[int, ...]


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
    open_ = askable(cues, asking.put, asking.scene, known)
    if not open_:
        return Next((), Stopped.NOTHING_SAFE, False)
    worth = _worthwhile(weighed(result, open_, field, asking.scene, known), known)
    return Next(worth[: asking.limit], Stopped.NOT if worth else Stopped.ENOUGH, False)


def askable(cues: Iterable[Cue], put: Set[str], scene: Scene, known: QuestionSet) -> tuple[Question, ...]:
    """What may be put to this caller and is not known already."""
    told = spoken_of(cues) | {known.by_id[id_].attribute for id_ in put if id_ in known.by_id}
    return tuple(q for q in known.questions if q.attribute not in told and scene.allows(q.needs))


def spoken_of(cues: Iterable[Cue]) -> frozenset[str]:
    """Attributes that were said of the vehicle asked about, other than as a mere guess or what it is not."""
    said = (cue for cue in cues if cue.vehicle == ASKED and not cue.denied and cue.doubt is not Doubt.GUESS)
    return frozenset(cue.attribute for cue in said)


def weighed(
    result: Posterior, questions: Iterable[Question], field: Field, scene: Scene, known: QuestionSet
) -> list[Worth]:
    """Every question with its worth, in the order given; those left out that no record says anything about."""
    stands = standing(result, field, known)
    found = [
        (question, outcomes(question, stands) if question.options else name_outcomes(stands, known.names))
        for question in questions
    ]
    stake = stakes(stands)
    now = stake.now()
    lost = losses(now, known.identity_weight)
    return [_worth(question, each, stake, (now, lost), scene, known) for question, each in found if each is not None]


def _worth(
    question: Question, found: Outcomes, stake: Stakes, before: tuple[Vector, Vector], scene: Scene, known: QuestionSet
) -> Worth:
    now, lost = before
    then = stake.then(found)
    chance = chances(found, stake.stands)
    told = 1 - question.cannot_tell[scene.caller]
    gain = float(chance @ (lost - losses(then, known.identity_weight)))
    settled = WEIGHTS * (chance @ (then - now))[:-1]
    return Worth(
        question=question,
        voi=told * gain - known.unit_cost * question.cost,
        bits=told * information(found, stake.stands),
        settles=_most(settled),
    )


def chances(found: Outcomes, stands: Standing) -> Vector:
    """P(answer), of callers who can tell."""
    return np.asarray(found.mass @ found.law + stands.unlisted * found.unlisted_law)


def information(found: Outcomes, stands: Standing) -> float:
    """Mutual information of the answer and the vehicle, in bits."""
    rows = np.vstack((found.law, found.unlisted_law, chances(found, stands)))
    rows = np.column_stack((rows, np.maximum(0.0, 1 - rows.sum(axis=1))))  # an answer that is none of them
    spread = entropy(rows)
    return float(spread[-1] - found.mass @ spread[:-2] - stands.unlisted * spread[-2])


def _worthwhile(found: list[Worth], known: QuestionSet) -> tuple[Worth, ...]:
    """Those worth their cost, best first; on a plateau the informative ones."""
    worth = [each for each in found if each.voi > 0]
    if worth:
        return tuple(sorted(worth, key=lambda each: (-each.voi, each.question.id)))
    telling = [each for each in found if each.bits >= known.least_bits]
    return tuple(sorted(telling, key=lambda each: (-each.bits, each.question.id)))


def _most(gains: Vector) -> tuple[int, ...]:
    """The facts that gain most, at most three."""
    order = np.argsort(-gains, kind="stable")[:3]
    return tuple(int(place) for place in order if gains[place] > _NAMED)
