"""From evidence to probabilities over every record and "not in this catalogue".

log p(r) = log((1 - rho) pi_r) + (1/T) sum log ratio, likewise for the unlisted vehicle, which is
a mutated relative of something listed: its likelihood is the prior-weighted mean of the mixed
ratios times how new the names sound. Then p <- (1 - cap) p + cap p0, so nothing reaches certainty.

Logarithms are taken of a cue's few values, never of a number per record: what is done per record
and cue is one gather and one product, for records and their unlisted relatives side by side.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.evidence import Evidence
from catalog.resolve.field import Field
from catalog.resolve.likelihood import Vector

# Decimals of a probability that count; records that agree to so many come in code order.
_PLACES = 12
_BLOCK = 64
# Products are brought back to 1 this often, long before they could vanish.
_RESCALE = 8
# A cue that says something special of fewer than one record in so many is applied to these alone.
_FEW = 4


@dataclass(frozen=True, slots=True)
class Posterior:
    """records: one probability per record; unlisted: the rest. They sum to 1."""

    records: Vector
    unlisted: float
    evidence: tuple[Evidence, ...]

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
    blocks = len(records) // _BLOCK
    likely = np.arange(len(records))
    if blocks > limit:
        # The limit-th largest of the blocks' own largest is no larger than the limit-th largest record.
        tops = records[: blocks * _BLOCK].reshape(blocks, _BLOCK).max(axis=1)
        least = np.partition(tops, blocks - limit)[blocks - limit]
        likely = np.flatnonzero(records >= least - 10.0**-_PLACES)
    rounded = np.round(records[likely], _PLACES)
    last = np.partition(rounded, len(rounded) - limit)[len(rounded) - limit]
    above = likely[rounded > last]
    ties = likely[rounded == last][: limit - len(above)]
    return np.sort(np.concatenate((above, ties)))


def posterior(found: Sequence[Evidence], field: Field) -> Posterior:
    """The posterior of all evidence."""
    tables, parameters, rate = field.tables, field.parameters, field.unlisted_rate
    if tables.size == 0:
        return Posterior(np.zeros(0), 1.0, tuple(found))
    prior: Vector = tables.arrays["prior"]
    weights, scale = _products(found, tables.size, parameters.temperature)
    records = prior * weights[:, 0]
    listed, mixed = float(records.sum()), float(np.dot(prior, weights[:, 1]))
    novel = sum(math.log(entry.novel) for entry in found)
    log_listed = math.log1p(-rate) + math.log(listed) + scale[0]
    log_unlisted = math.log(mixed) + scale[1] + novel
    score = math.log(rate) + log_unlisted / parameters.temperature + parameters.unlisted_bias
    peak = max(log_listed, score)
    weight = math.exp(score - peak)
    total = math.exp(log_listed - peak) + weight
    keep, unlisted = 1 - parameters.cap, weight / total
    records *= keep * (1 - unlisted) / listed
    records += (parameters.cap * (1 - rate)) * prior
    return Posterior(records, keep * unlisted + parameters.cap * rate, tuple(found))


def _products(found: Sequence[Evidence], size: int, temperature: float) -> tuple[Vector, tuple[float, float]]:
    """(N, 2) products of tempered ratios and of mixed ratios, and the logs of what was divided out of each."""
    dense = [entry for entry in found if not _is_sparse(entry, size)]
    sparse = [entry for entry in found if _is_sparse(entry, size)]
    made, scale = np.ones((size, 2)), np.zeros(2)
    spare = np.empty((size, 2)) if len(dense) > 1 else made
    for number, entry in enumerate([*dense, *sparse], 1):
        columns = np.column_stack((entry.values ** (1 / temperature), entry.mixed_values))
        top = columns[-1].copy() if number > len(dense) else columns.max(axis=0)
        columns /= top
        scale += np.log(top)
        if number > len(dense):
            made[entry.few] *= columns[entry.index[entry.few]]
        elif number == 1:
            _take(columns, entry.index, made)
        else:
            made *= _take(columns, entry.index, spare)
        if number % _RESCALE == 0:
            top = made.max(axis=0)
            made /= top
            scale += np.log(top)
    return made, (float(scale[0]), float(scale[1]))


def _is_sparse(entry: Evidence, size: int) -> bool:
    return entry.few is not None and _FEW * len(entry.few) < size and bool(entry.values[-1] > 0)


def _take(columns: Vector, index: NDArray[Any], out: Vector) -> Vector:
    """Both columns of every record. Indexes come from the tables themselves, so none is out of range."""
    return np.take(columns, index, axis=0, out=out, mode="clip")
