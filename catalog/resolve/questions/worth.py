"""What asking a question is worth.

VOI = (1 - d) (L(p) - sum_o P(o) L(p | o)) - cost, d being the share of callers there who cannot
tell. Beside it the information: the mutual information of the answer and the vehicle, in bits.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.loss import WEIGHTS, losses, stakes
from catalog.resolve.questions.name_outcomes import name_outcomes
from catalog.resolve.questions.outcomes import Outcomes, outcomes
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
    thought = (
        (question, outcomes(question, stands) if question.options else name_outcomes(stands, known.names))
        for question in questions
    )
    found = [(question, each) for question, each in thought if each is not None]
    if not found:
        return []
    stake = stakes(stands)
    now, then = stake.now(), stake.then([each for _, each in found])
    lost = losses(now, known.identity_weight) - losses(then, known.identity_weight)
    chance = np.concatenate([chances(each, stands) for _, each in found])
    starts = np.cumsum([0, *(len(each.unlisted_law) for _, each in found[:-1])])
    gains = np.add.reduceat(chance * lost, starts)
    saves = WEIGHTS * np.add.reduceat(chance[:, None] * (then - now), starts, axis=0)[:, :-1]
    bits = information([each for _, each in found], stands)
    told = np.array([1 - question.cannot_tell[scene.caller] for question, _ in found])
    cost = known.unit_cost * np.array([question.cost for question, _ in found])
    rows = zip(found, (told * gains - cost).tolist(), (told * bits).tolist(), saves, strict=True)
    return [Worth(question, voi, known_, saved) for (question, _), voi, known_, saved in rows]


def chances(found: Outcomes, stands: Standing) -> Vector:
    """P(answer), of callers who can tell."""
    return np.asarray(found.mass @ found.law + stands.unlisted * found.unlisted_law)


def information(found: Sequence[Outcomes], stands: Standing) -> Vector:
    """Mutual information of the answer and the vehicle, in bits, of each question."""
    heard = spreads([chances(each, stands) for each in found])
    unlisted = spreads([each.unlisted_law for each in found])
    listed = np.array([each.mass @ each.spread for each in found])
    return np.asarray(heard - listed - stands.unlisted * unlisted)


def spreads(chances_: Sequence[Vector]) -> Vector:
    """Entropy of each row in bits, an answer that is none of them included; rows may be of any lengths."""
    rest = [max(0.0, 1 - float(row.sum())) for row in chances_]
    flat = np.concatenate([part for row, left in zip(chances_, rest, strict=True) for part in (row, [left])])
    starts = np.cumsum([0, *(len(row) + 1 for row in chances_[:-1])])
    logs = np.log2(flat, out=np.zeros_like(flat), where=flat > 0)
    return np.asarray(-np.add.reduceat(flat * logs, starts))
