"""Measuring: processor time of the thread, so that other work on the machine counts little."""

import statistics
import time
import tracemalloc
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Times:
    """Seconds, one per description."""

    seconds: Sequence[float]

    @property
    def median(self) -> float:
        return statistics.median(self.seconds)

    @property
    def p95(self) -> float:
        return float(np.percentile(self.seconds, 95))

    def __add__(self, other: "Times") -> "Times":
        return Times([one + two for one, two in zip(self.seconds, other.seconds, strict=True)])


def timed(work: Callable[[T], object], asked: Sequence[T], rounds: int) -> Times:
    """The best of the rounds for each that is asked."""
    best = [float("inf")] * len(asked)
    for _ in range(rounds):
        for place, one in enumerate(asked):
            began = time.thread_time()
            work(one)
            best[place] = min(best[place], time.thread_time() - began)
    return Times(best)


def peak_bytes(work: Callable[[T], object], asked: Sequence[T]) -> int:
    """The most that one call holds at a time, as the median over what is asked."""
    peaks = []
    tracemalloc.start()
    try:
        for one in asked:
            tracemalloc.reset_peak()
            before, _ = tracemalloc.get_traced_memory()
            work(one)
            peaks.append(tracemalloc.get_traced_memory()[1] - before)
    finally:
        tracemalloc.stop()
    return int(statistics.median(peaks))


def copy_bandwidth(size: int) -> float:
    """Bytes read and written per second by a plain copy of `size` bytes, the best of many."""
    source, target = np.ones(size // 8), np.empty(size // 8)
    best, at_once = float("inf"), max(1, 4_000_000 // size)  # small ones together, for the clock's sake
    for _ in range(max(20, 400_000_000 // size // 10 // at_once)):
        began = time.thread_time()
        for _ in range(at_once):
            np.copyto(target, source)
        best = min(best, (time.thread_time() - began) / at_once)
    return 2 * size / best
