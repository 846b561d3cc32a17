"""From evidence to probabilities over every record and "not in this catalogue".

log p(r) = log((1 - rho) pi_r) + (1/T) sum log ratio, likewise for the unlisted vehicle, which is
a mutated relative of something listed: its likelihood is the prior-weighted mean of the mixed
ratios times how new the names sound. Then p <- (1 - cap) p + cap p0, so nothing reaches certainty.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from catalog.resolve.evidence import Evidence
from catalog.resolve.field import Field
from catalog.resolve.likelihood import Vector


@dataclass(frozen=True, slots=True)
class Posterior:
    """records: one probability per record; unlisted: the rest. They sum to 1."""

    records: Vector
    unlisted: float
    evidence: tuple[Evidence, ...]

    def order(self) -> "np.ndarray[tuple[int], np.dtype[np.int64]]":
        """Record positions, likeliest first; equal ones by code (tables are in code order)."""
        return np.lexsort((np.arange(len(self.records)), -np.round(self.records, 12)))


def posterior(found: Sequence[Evidence], field: Field) -> Posterior:
    """The posterior of all evidence."""
    tables, parameters, unlisted_rate = field.tables, field.parameters, field.unlisted_rate
    if tables.size == 0:
        return Posterior(np.zeros(0), 1.0, tuple(found))
    prior = tables.arrays["prior"]
    with np.errstate(divide="ignore"):
        log_prior = np.log((1 - unlisted_rate) * prior)
    log_records = np.zeros(tables.size)
    log_mixed = np.zeros(tables.size)
    log_novel = 0.0
    for entry in found:
        log_records += np.log(entry.ratio)
        log_mixed += np.log(entry.mixed)
        log_novel += float(np.log(entry.novel))
    top = float(log_mixed.max())
    log_unlisted = top + float(np.log(np.dot(prior, np.exp(log_mixed - top)))) + log_novel
    scores = log_prior + log_records / parameters.temperature
    score = float(np.log(unlisted_rate)) + log_unlisted / parameters.temperature + parameters.unlisted_bias
    peak = max(float(scores.max()), score)
    weights, weight = np.exp(scores - peak), float(np.exp(score - peak))
    total = float(weights.sum()) + weight
    keep = 1 - parameters.cap
    records = keep * weights / total + parameters.cap * (1 - unlisted_rate) * prior
    return Posterior(records, keep * weight / total + parameters.cap * unlisted_rate, tuple(found))
