"""Which vehicle each answer to a question would point to: the likeliest one once it is given."""

from typing import NamedTuple

import numpy as np

from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.outcomes import outcomes
from catalog.resolve.questions.standing import standing
from catalog.resolve.questions.table import Question, QuestionSet


class Pointed(NamedTuple):
    """position: of the likeliest record, None where *not in this catalogue* is likelier than any. chance: its share."""

    position: int | None
    chance: float


def points_to(question: Question, result: Posterior, field: Field, known: QuestionSet) -> tuple[Pointed, ...]:
    """One per option, in their order; none where no record says anything about it. The catalogue holds a record.

    Shares are those the posterior has with the answer's cue, before its cap.
    """
    stands = standing(result, field, known)
    found = outcomes(question, stands) if question.options else None
    if found is None:
        return ()
    shares = stands.shares[:, None] * found.factor[found.index]
    unlisted = stands.unlisted * found.unlisted_factor
    whole = shares.sum(axis=0) + unlisted
    # Past the likeliest ones a record stands for others as well, and its share is not its own.
    own = shares[: min(len(shares), known.likeliest)]
    first = own.argmax(axis=0)
    best = own[first, np.arange(own.shape[1])]
    return tuple(
        Pointed(None, float(out / total)) if out > share else Pointed(int(stands.records[place]), float(share / total))
        for place, share, out, total in zip(first, best, unlisted, whole, strict=True)
    )
