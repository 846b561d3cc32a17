"""How things stand before a question: the likeliest records, and some that stand for all others.

The others are a sample of fixed steps through their shares, so that what a vague description leaves
open is weighed too; a catalogue of no more records than that is weighed whole. Shares are those
before the cap of `posterior`, so that an answer multiplies them just as a cue would.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior
from catalog.resolve.questions.table import QuestionSet
from catalog.resolve.scorer import Vector


@dataclass(frozen=True, eq=False)
class Standing:
    """records: positions, a sampled one perhaps several times. shares: theirs. unlisted: of "not in this
    catalogue"; all together add up to 1. relatives: share of each record of the edition among those an
    unlisted vehicle may be a relative of; adds up to 1.
    """

    field: Field
    records: NDArray[np.intp]
    shares: Vector
    unlisted: float
    relatives: Vector


def standing(result: Posterior, field: Field, known: QuestionSet) -> Standing:
    """Take a posterior apart. The catalogue holds at least one record."""
    cap, rate = field.parameters.cap, field.unlisted_rate
    prior: Vector = field.tables.arrays["prior"]
    records = np.maximum(0.0, result.records - cap * (1 - rate) * prior)
    unlisted = max(0.0, result.unlisted - cap * rate)
    whole = float(records.sum()) + unlisted
    top, shares = _chosen(records / whole, result, known)
    return Standing(field, top, shares, unlisted / whole, prior if result.relatives is None else result.relatives)


def _chosen(records: Vector, result: Posterior, known: QuestionSet) -> tuple[NDArray[np.intp], Vector]:
    if len(records) <= known.likeliest + known.sampled:
        return np.arange(len(records)), records
    top = result.order(known.likeliest)
    likely = records[top]
    records[top] = 0.0
    until = np.cumsum(records)
    left = float(until[-1])
    steps = (np.arange(known.sampled) + 0.5) * (left / known.sampled)
    sample = np.minimum(np.searchsorted(until, steps), len(records) - 1)
    return np.concatenate((top, sample)), np.concatenate((likely, np.full(known.sampled, left / known.sampled)))
