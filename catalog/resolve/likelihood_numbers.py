"""Scorers of counts, years and VIN patterns."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from catalog.domain.vin import LENGTH, OPEN, PART
from catalog.resolve.parameters import Parameters
from catalog.resolve.scorer import Averages, Vector

_SHORTEST = 3  # fewer characters of a VIN than the maker's fit nothing


def kernel(distances: "np.ndarray[Any, np.dtype[np.intp]]", table: Mapping[str, Any]) -> Vector:
    """Chance of a figure said so far from the true one."""
    steps = np.array([*table["kernel"], table["far"]], dtype=np.float64)
    return np.asarray(steps[np.minimum(np.abs(distances), len(steps) - 1)])


class DoorScorer:
    """Counts a caller may miss by one or two. truths: every count stated."""

    def __init__(self, _: str, truths: Sequence[list[int]], parameters: Parameters) -> None:
        self._table = parameters.tables["doors"]
        self._counts = np.array([count for truth in truths for count in truth], dtype=np.intp)
        self._averages = Averages([len(truth) for truth in truths])

    def score(self, values: Sequence[str]) -> Vector:
        made = sum(kernel(self._counts - int(value), self._table) for value in values)
        return np.minimum(1.0, self._averages.of(np.asarray(made)))


class YearScorer:
    """Model years: the mean over the years it was built. truths: [first, last or None while still built].

    values: "2019" or "2018-2020".
    """

    def __init__(self, _: str, truths: Sequence[list[int | None]], parameters: Parameters) -> None:
        self._table = parameters.tables["years"]
        self._first = np.array([first for first, _ in truths], dtype=np.intp)
        self._last = np.array([-1 if last is None else last for _, last in truths], dtype=np.intp)

    def score(self, values: Sequence[str]) -> Vector:
        said = sorted({year for value in values for year in _span(value)})
        last = np.where(self._last < 0, np.maximum(said[-1], self._first), self._last)
        start = int(self._first.min())
        years = np.arange(start, int(last.max()) + 1)
        chance = sum(kernel(years - year, self._table) for year in said)
        until = np.concatenate(([0.0], np.cumsum(chance)))
        total = until[last - start + 1] - until[self._first - start]
        return np.asarray(np.minimum(1.0, total / (last - self._first + 1)))


def _span(value: str) -> range:
    first, _, last = value.partition("-")
    return range(int(first), int(last or first) + 1)


class VinScorer:
    """1 where one of a record's patterns is fitted, else 0; NaN where no pattern can say.

    Patterns have seventeen characters, "?" for any. truths: every pattern of the record.
    """

    def __init__(self, _: str, truths: Sequence[list[str]], __: Parameters) -> None:
        text = "".join(pattern for truth in truths for pattern in truth)
        self._patterns = np.frombuffer(text.encode("latin-1"), dtype=np.uint8).reshape(-1, LENGTH)
        self._averages = Averages([len(truth) for truth in truths])

    def score(self, values: Sequence[str]) -> Vector:
        begun = [value.rstrip(PART) for value in values if not value.startswith(PART)]
        if not begun:  # where it stood is not known, or it is the serial: no pattern says
            return np.full(len(self._averages.of(np.zeros(len(self._patterns)))), np.nan)
        fits = np.zeros(len(self._patterns), dtype=np.bool_)
        for value in begun:
            if _SHORTEST <= len(value) <= LENGTH:
                fits |= self._fits(value)
        return np.asarray(self._averages.of(fits.astype(np.float64)) > 0, dtype=np.float64)

    def _fits(self, value: str) -> "np.ndarray[Any, np.dtype[np.bool_]]":
        """Which patterns a VIN, or its beginning, fits; "?" on either side fits anything."""
        said = np.frombuffer(value.encode("latin-1"), dtype=np.uint8)
        part, anything = self._patterns[:, : len(said)], ord(OPEN)
        agree = (part == said) | (part == anything) | (said == anything)
        return np.asarray(agree.all(axis=1))


def is_clear(value: str) -> bool:
    """Whether a VIN is whole: every character heard."""
    return len(value) == LENGTH and OPEN not in value and PART not in value
