"""What every scorer of signatures shares."""

from collections.abc import Sequence
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]


class Scorer(Protocol):
    """P(said | true) for each of the signatures it was made from."""

    def score(self, values: Sequence[str]) -> Vector:
        """One number per signature; values are alternatives."""
        ...


class Averages:
    """Means over the members of each group, for groups of different sizes kept in one row."""

    def __init__(self, sizes: Sequence[int]) -> None:
        """sizes: of the groups, each at least 1, in the order of the members."""
        self._sizes = np.array(sizes, dtype=np.float64)
        self._starts = np.concatenate(([0], np.cumsum(sizes)[:-1])).astype(np.intp)

    def of(self, members: Vector) -> Vector:
        """One mean per group."""
        return np.asarray(np.add.reduceat(members, self._starts) / self._sizes, dtype=np.float64)
