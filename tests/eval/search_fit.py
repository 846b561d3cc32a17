"""From scores to probabilities, fitted alike for every system, and what they are worth.

log p(r) = w log prior(r) + k score(r), log p(not listed) = k unlisted + c, all tempered and capped
as the search does. w, k and c minimise the mean negative log likelihood of the calibration queries.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from catalog.resolve.parameters import Parameters, expert
from tests.eval.search_ground import RATE

Array = NDArray[np.float64]
CAP = expert().cap
BINS = 15


@dataclass(frozen=True, eq=False)
class Scores:
    """records: (queries, records). unlisted: one per query, in the same measure (0 where a system has none)."""

    records: NDArray[np.float32]
    unlisted: Array

    def first(self, count: int) -> "Scores":
        return Scores(self.records[:count], self.unlisted[:count])


@dataclass(frozen=True, slots=True)
class Fit:
    """weight: of the log prior. scale: of the scores. constant: of the unlisted vehicle."""

    weight: float
    scale: float
    constant: float


def own_fit(parameters: Parameters) -> Fit:
    """The search's own numbers."""
    return Fit(1.0, 1 / parameters.temperature, math.log(RATE) + parameters.unlisted_bias)


@dataclass(frozen=True, eq=False)
class Outcome:
    """Per query: nll in nats, chance of being within 1, 3 and 10 (NaN where not listed), the first answer's
    probability and the chance that it is right, the unlisted vehicle's probability."""

    nll: Array
    within: dict[int, Array]
    top: Array
    right: Array
    unlisted: Array

    def first(self, count: int) -> "Outcome":
        within = {k: values[:count] for k, values in self.within.items()}
        return Outcome(self.nll[:count], within, self.top[:count], self.right[:count], self.unlisted[:count])

    def success(self, k: int) -> float:
        return float(np.nanmean(self.within[k]))


def fitted(scores: Scores, targets: NDArray[np.intp], prior: Array, *, free_prior: bool = True) -> Fit:
    """The best fit on calibration queries. free_prior: whether the prior's weight is fitted as well."""

    def loss(at: Array) -> float:
        weight = float(np.clip(at[2], 0, 3)) if free_prior else 1.0
        return float(_nll(scores, targets, prior, Fit(weight, float(np.exp(at[0])), float(at[1]))).mean())

    spread = float(scores.records.std()) or 1.0
    start = np.array([np.log(2 / spread), np.log(RATE), 1.0][: 3 if free_prior else 2])
    found = minimize(loss, start, method="Nelder-Mead", options={"maxfev": 160, "xatol": 0.01, "fatol": 1e-4})
    weight = float(np.clip(found.x[2], 0, 3)) if free_prior else 1.0
    return Fit(weight, float(np.exp(found.x[0])), float(found.x[1]))


def _logits(scores: Scores, prior: Array, fit: Fit) -> tuple[NDArray[np.floating[Any]], Array]:
    records = fit.scale * scores.records + (fit.weight * np.log((1 - RATE) * prior)).astype(np.float32)
    return records, np.asarray(fit.scale * scores.unlisted + fit.constant)


def _nll(scores: Scores, targets: NDArray[np.intp], prior: Array, fit: Fit) -> Array:
    records, unlisted = _logits(scores, prior, fit)
    peak = np.maximum(records.max(axis=1), unlisted)
    total = np.exp(records - peak[:, None]).sum(axis=1) + np.exp(unlisted - peak)
    rows = np.arange(len(targets))
    own = np.where(targets < 0, unlisted, records[rows, np.maximum(targets, 0)])
    base = np.where(targets < 0, RATE, (1 - RATE) * prior[np.maximum(targets, 0)])
    return np.asarray(-np.log((1 - CAP) * np.exp(own - peak) / total + CAP * base))


def outcome(scores: Scores, targets: NDArray[np.intp], prior: Array, fit: Fit) -> Outcome:
    """What a fitted system answers."""
    records, unlisted = _logits(scores, prior, fit)
    peak = np.maximum(records.max(axis=1), unlisted)
    chances = np.exp((records - peak[:, None]).astype(np.float64))
    strange = np.exp(unlisted - peak)
    total = chances.sum(axis=1) + strange
    chances = (1 - CAP) * chances / total[:, None] + CAP * (1 - RATE) * prior
    strange = (1 - CAP) * strange / total + CAP * RATE
    own = np.where(targets < 0, strange, chances[np.arange(len(targets)), np.maximum(targets, 0)])
    slack = 1e-9 + 1e-6 * own[:, None]  # scores are kept in single precision
    better = (chances > own[:, None] + slack).sum(axis=1)
    tied = np.maximum(1, (np.abs(chances - own[:, None]) <= slack).sum(axis=1))
    within = {k: np.where(targets < 0, np.nan, np.clip((k - better) / tied, 0, 1)) for k in (1, 3, 10)}
    top = np.maximum(chances.max(axis=1), strange)
    first = own >= top * (1 - 1e-6)
    equal = (chances >= (top * (1 - 1e-6))[:, None]).sum(axis=1) + (strange >= top * (1 - 1e-6))
    return Outcome(-np.log(own), within, top, np.where(first, 1 / equal, 0.0), strange)


def ece(top: Array, right: Array) -> float:
    """Expected calibration error of the first answer, bins of equal mass."""
    order = np.argsort(top, kind="stable")
    parts = np.array_split(order, BINS)
    return float(sum(len(p) * abs(top[p].mean() - right[p].mean()) for p in parts if len(p)) / len(top))


def null95(top: Array, times: int = 200) -> float:
    """What 19 in 20 perfectly calibrated systems with these probabilities stay under."""
    draw = np.random.default_rng(5)
    return float(np.quantile([ece(top, (draw.random(len(top)) < top).astype(float)) for _ in range(times)], 0.95))


def paired(differences: Array, families: Sequence[str], times: int = 1000) -> tuple[float, float, float]:
    """Mean, and its 95 % interval by bootstrap over platform families."""
    names = {name: at for at, name in enumerate(dict.fromkeys(families))}
    place = np.array([names[name] for name in families])
    sums = np.bincount(place, weights=differences, minlength=len(names))
    counts = np.bincount(place, minlength=len(names))
    draw = np.random.default_rng(7)
    picks = draw.integers(0, len(names), (times, len(names)))
    means = sums[picks].sum(axis=1) / counts[picks].sum(axis=1)
    low, high = np.quantile(means, (0.025, 0.975))
    return float(differences.mean()), float(low), float(high)


def auroc(scores: Array, positive: NDArray[np.bool_]) -> float:
    """Chance that an unlisted vehicle has the higher score; NaN where there is only one kind."""
    if positive.all() or not positive.any():
        return float("nan")
    order = np.concatenate((scores[positive], scores[~positive]))
    _, inverse, counts = np.unique(order, return_inverse=True, return_counts=True)
    ranks = (np.cumsum(counts) - (counts - 1) / 2)[inverse]
    n = int(positive.sum())
    return float((ranks[:n].sum() - n * (n + 1) / 2) / (n * (len(order) - n)))
