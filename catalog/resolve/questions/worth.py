"""What asking a question is worth.

VOI = (1 - d) (L(p) - sum_o P(o) L(p | o)) - cost, d being the share of callers there who cannot
tell. Beside it the information: the mutual information of the answer and the vehicle, in bits.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.loss import WEIGHTS, Stakes, losses, stakes
from catalog.resolve.questions.name_outcomes import name_outcomes
from catalog.resolve.questions.outcomes import Outcomes, outcomes, spread_of
from catalog.resolve.questions.safety import Scene
from catalog.resolve.questions.standing import Standing, standing
from catalog.resolve.questions.table import Question, QuestionSet
from catalog.resolve.scorer import Vector

_NAMED = 0.0005  # of all that may be lost: a fact that gains less is not told of


@dataclass(frozen=True, eq=False)
class Worth:
    """A question weighed. voi: in shares of all that may be lost, cost taken off. bits: information it is
    expected to give, over those who cannot tell as well. saves: part of the first that each of FACTS has.
    """

    question: Question
    voi: float
    bits: float
    saves: Vector

    @property
    def settles(self) -> tuple[int, ...]:
        """Positions in FACTS of what it helps with most, at most three."""
        order = np.argsort(-self.saves, kind="stable")[:3]
        return tuple(int(place) for place in order if self.saves[place] > _NAMED)


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
    then, chance = stake.then(found), chances(found, stake.stands)
    told = 1 - question.cannot_tell[scene.caller]
    gain = float(chance @ (lost - losses(then, known.identity_weight)))
    return Worth(
        question=question,
        voi=told * gain - known.unit_cost * question.cost,
        bits=told * information(found, stake.stands),
        saves=WEIGHTS * (chance @ (then - now))[:-1],
    )


def chances(found: Outcomes, stands: Standing) -> Vector:
    """P(answer), of callers who can tell."""
    return np.asarray(found.mass @ found.law + stands.unlisted * found.unlisted_law)


def information(found: Outcomes, stands: Standing) -> float:
    """Mutual information of the answer and the vehicle, in bits."""
    heard, unlisted = spread_of(np.vstack((chances(found, stands), found.unlisted_law)))
    return float(heard - found.mass @ found.spread - stands.unlisted * unlisted)
