"""Exact (Clopper-Pearson) bounds of a share, from the binomial tails alone."""

import math
from collections.abc import Callable

import numpy as np

from catalog.resolve.scorer import Vector

LEVEL = 0.95
_HALVINGS = 60


def exact_bounds(times: int, of: int, level: float = LEVEL) -> tuple[float, float]:
    """Two-sided bounds of the share that `times` in `of` came from; (0, 1) of nothing."""
    if of == 0:
        return 0.0, 1.0
    tail = (1 - level) / 2
    ways = _ways(of)
    low = 0.0 if times == 0 else _share(lambda p: _sum(ways, p, times, of) < tail)
    high = 1.0 if times == of else _share(lambda p: _sum(ways, p, 0, times) > tail)
    return low, high


def _share(below: Callable[[float], bool]) -> float:
    """The share up to which `below` holds."""
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle) else (low, middle)
    return (low + high) / 2


def _ways(of: int) -> Vector:
    """Logs of the binomial coefficients."""
    logs = np.concatenate(([0.0], np.cumsum(np.log(np.arange(1, of + 1)))))
    return np.asarray(logs[-1] - logs - logs[::-1])


def _sum(ways: Vector, share: float, first: int, last: int) -> float:
    """P(first to last of them) at this share, strictly between 0 and 1."""
    counts = np.arange(first, last + 1)
    terms = ways[first : last + 1] + counts * math.log(share) + (len(ways) - 1 - counts) * math.log1p(-share)
    return float(np.exp(terms).sum())
