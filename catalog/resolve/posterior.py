"""From evidence to probabilities over every record and "not in this catalogue".

log p(r) = log((1 - rho) pi_r) + (1/T) sum log ratio, likewise for the unlisted vehicle, which is
a mutated relative of something listed: its likelihood is the prior-weighted mean of the mixed
ratios. Several names are weighed as one (`together`). Then p <- (1 - cap) p + cap p0, so nothing reaches certainty.

Logarithms are taken of a cue's few values, never of a number per record: what is done per record
and cue is one gather and one product, for records and their unlisted relatives side by side.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.evidence import Evidence
from catalog.resolve.field import Field
from catalog.resolve.likelihood import Vector
from catalog.resolve.together import together

# Decimals of a probability that count; records that agree to so many come in code order.
_PLACES = 12
_BLOCK = 64
# Products are brought back to 1 this often, long before they could vanish.
_RESCALE = 8


@dataclass(frozen=True, slots=True)
class Posterior:
    """records: one probability per record; unlisted: the rest. They sum to 1.

    relatives: share of each record among those an unlisted vehicle may be a relative of; None: as the prior.
    joint: what several names together say otherwise than each alone; None where not several were said. without: the
    same with one of the cues left out, by its place in `evidence`; made once asked for.
    """

    records: Vector
    unlisted: float
    evidence: tuple[Evidence, ...]
    relatives: Vector | None = None
    joint: Evidence | None = None
    without: dict[int, Evidence | None] = field(default_factory=dict, compare=False, repr=False)

    def order(self, limit: int | None = None) -> NDArray[np.intp]:
        """Record positions, likeliest first; equal ones by code (tables are in code order).

        limit: how many of them; None for all.
        """
        places = np.arange(len(self.records))
        if limit is not None and limit < len(places):
            places = _leading(self.records, limit)
        # The last key sorts first; lexsort keeps the order of equal ones, which is that of the codes.
        return places[np.lexsort((-np.round(self.records[places], _PLACES),))][:limit]


def _leading(records: Vector, limit: int) -> NDArray[np.intp]:
    """The positions of the `limit` largest, in order of position; of those that tie for the last places, the first."""
    likely = _likely(records, limit)
    rounded = np.round(records[likely], _PLACES)
    last = np.partition(rounded, len(rounded) - limit)[len(rounded) - limit]
    above = likely[rounded > last]
    ties = likely[rounded == last][: limit - len(above)]
    return np.sort(np.concatenate((above, ties)))


def _likely(records: Vector, limit: int) -> NDArray[np.intp]:
    """Positions among which the `limit` largest are, ties of the last included; ascending."""
    blocks = len(records) // _BLOCK
    if blocks < _BLOCK or blocks <= limit:
        return np.arange(len(records))
    # The limit-th largest of the blocks' own largest is no larger than the limit-th largest record.
    tops = records[: blocks * _BLOCK].reshape(blocks, _BLOCK).max(axis=1)
    least = np.partition(tops, blocks - limit)[blocks - limit]
    return np.flatnonzero(records >= least - 10.0**-_PLACES)


def posterior(found: Sequence[Evidence], field: Field) -> Posterior:
    """The posterior of all evidence."""
    tables, parameters, rate = field.tables, field.parameters, field.unlisted_rate
    if tables.size == 0:
        return Posterior(np.zeros(0), 1.0, tuple(found))
    prior: Vector = tables.arrays["prior"]
    joint = together(found, field)
    weights, scale = _products(found if joint is None else (*found, joint), tables.size)
    records = prior * weights[:, 0]
    relatives = prior * weights[:, 1]
    listed, mixed = float(records.sum()), float(relatives.sum())
    relatives /= mixed
    novel = sum(math.log(entry.weights.novel) for entry in found)
    log_listed = math.log1p(-rate) + math.log(listed) + scale[0]
    log_unlisted = math.log(mixed) + scale[1] + novel
    score = math.log(rate) + log_unlisted / parameters.temperature + parameters.unlisted_bias
    peak = max(log_listed, score)
    weight = math.exp(score - peak)
    total = math.exp(log_listed - peak) + weight
    keep, unlisted = 1 - parameters.cap, weight / total
    records *= keep * (1 - unlisted) / listed
    records += (parameters.cap * (1 - rate)) * prior
    return Posterior(records, keep * unlisted + parameters.cap * rate, tuple(found), relatives, joint)


def _products(found: Sequence[Evidence], size: int) -> tuple[Vector, tuple[float, float]]:
    """(N, 2) products of tempered ratios and of mixed ratios, and the logs of what was divided out of each."""
    dense = [entry for entry in found if entry.few is None]
    made = np.ones((size, 2)) if not dense else np.empty((size, 2))
    spare = np.empty((size, 2)) if len(dense) > 1 else made
    tempered, mixed = (sum(entry.weights.over[column] for entry in found) for column in (0, 1))
    for number, entry in enumerate(dense):
        if number == 0:
            _take(entry, made)
        else:
            made *= _take(entry, spare)
        if number % _RESCALE == _RESCALE - 1:
            tempered, mixed = _rescaled(made, tempered, mixed)
    for number, entry in enumerate(entry for entry in found if entry.few is not None):
        made[entry.few] *= entry.weights.columns[entry.index[entry.few]]
        if number % _RESCALE == _RESCALE - 1:
            tempered, mixed = _rescaled(made, tempered, mixed)
    return made, (tempered, mixed)


def _rescaled(made: Vector, tempered: float, mixed: float) -> tuple[float, float]:
    """Divide by the largest of each column, in place, and remember it."""
    top = made.max(axis=0)
    made /= top
    return tempered + math.log(top[0]), mixed + math.log(top[1])


def _take(entry: Evidence, out: Vector) -> Vector:
    """Both columns of every record. Indexes come from the tables themselves, so none is out of range."""
    return np.take(entry.weights.columns, entry.index, axis=0, out=out, mode="clip")
