"""How often what was given a probability was so: pooled adjacent violators, and where they lie by chance.

The CORP reliability diagram of Dimitriadis, Gneiting and Jordan, PNAS 118 (2021): no bins to choose.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.scorer import Vector

DRAWS = 400
_SEED = 20261125
_SAME = 1e-12


def isotonic(values: Sequence[float] | Vector) -> Vector:
    """The non-decreasing row nearest to `values` in squares, every value weighing the same."""
    sums: list[float] = []
    sizes: list[int] = []
    for value in values:
        total, size = float(value), 1
        # A mean below the one before it is pooled with it.
        while sums and sums[-1] * size >= total * sizes[-1]:
            total += sums.pop()
            size += sizes.pop()
        sums.append(total)
        sizes.append(size)
    return np.repeat([total / size for total, size in zip(sums, sizes, strict=True)], sizes)


@dataclass(frozen=True, eq=False)
class Reliability:
    """given: distinct probabilities, ascending. shown: how many answers had each. seen: how often they were right,
    pooled. low, high: where `seen` lies in 9 of 10 draws, were every probability right."""

    given: Vector
    shown: Vector
    seen: Vector
    low: Vector
    high: Vector


def reliability(firsts: Sequence[tuple[float, bool]]) -> Reliability:
    """From each answer's probability and whether it was right. Equal probabilities are one point."""
    given, place = np.unique([p for p, _ in firsts], return_inverse=True)
    probabilities = given[place]
    order = np.argsort(place, kind="stable")
    right = np.array([right for _, right in firsts], dtype=np.float64)
    shown = np.bincount(place, minlength=len(given)).astype(np.float64)
    draw = np.random.default_rng(_SEED)
    drawn = [_pooled((draw.random(len(order)) < probabilities).astype(float), order, shown) for _ in range(DRAWS)]
    low, high = np.quantile(drawn, (0.05, 0.95), axis=0) if firsts else (given, given)
    return Reliability(given, shown, _pooled(right, order, shown), low, high)


@dataclass(frozen=True, slots=True)
class Level:
    """A run of probabilities, first to last, that were right equally often once pooled. shown, right: answers.

    low, high: where the line lies by chance at its middle answer.
    """

    first: float
    last: float
    shown: int
    right: int
    low: float
    high: float

    @property
    def seen(self) -> float:
        return self.right / self.shown


def levels(found: Reliability) -> tuple[Level, ...]:
    """The steps of the line, lowest first."""
    edges = np.flatnonzero(np.diff(found.seen) > _SAME) + 1
    made = []
    for part in np.split(np.arange(len(found.given)), edges) if len(found.given) else ():
        counts = np.cumsum(found.shown[part])
        middle = part[int(np.searchsorted(counts, counts[-1] / 2))]
        first, last, low, high = (
            float(value) for value in (*found.given[part[[0, -1]]], found.low[middle], found.high[middle])
        )
        right = round(float(found.seen[part[0]] * counts[-1]))
        made.append(Level(first, last, int(counts[-1]), right, low, high))
    return tuple(made)


def _pooled(right: Vector, order: NDArray[np.intp], shown: Vector) -> Vector:
    """One value per distinct probability: those of equal ones are averaged first, so their order is no matter."""
    ordered = right[order]
    ends = np.cumsum(shown).astype(np.intp)
    sums = np.concatenate(([0.0], np.cumsum(ordered)))[ends]
    means = np.diff(np.concatenate(([0.0], sums))) / shown
    fitted = isotonic(np.repeat(means, shown.astype(np.intp)))
    return np.asarray(fitted[ends - 1])
