"""A probability as it may be shown."""

from typing import NamedTuple

from catalog.resolve.chance import said


class Chance(NamedTuple):
    """A probability as it may be shown. word: "likely". frequency: "about 7 in 10"."""

    probability: float
    word: str
    frequency: str


def chance_of(probability: float) -> Chance:
    """A probability as it may be shown."""
    word, frequency = said(probability)
    return Chance(probability, word, frequency)
