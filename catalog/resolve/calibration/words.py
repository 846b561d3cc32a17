"""How often each probability word was right."""

from collections.abc import Iterable
from dataclasses import dataclass

from catalog.resolve.calibration.bounds import exact_bounds
from catalog.resolve.chance import WORDS, word


@dataclass(frozen=True, slots=True)
class WordRate:
    """shown: how often the word stood beside a vehicle. right: how often that was the one.

    low, high: exact 95 % bounds. Of one description at most one row is right, so rows are not quite apart; their
    counts then vary less than the bounds allow for.
    """

    word: str
    shown: int
    right: int
    low: float
    high: float


def word_rates(rows: Iterable[tuple[float, bool]]) -> tuple[WordRate, ...]:
    """Of rows as a page shows them: the probability, and whether it was that one. Every word, the surest first."""
    counted = {text: [0, 0] for _, text in WORDS}
    for probability, right in rows:
        told = counted[word(probability)]
        told[0] += 1
        told[1] += right
    return tuple(WordRate(text, shown, right, *exact_bounds(right, shown)) for text, (shown, right) in counted.items())


def promised(text: str) -> tuple[float, float]:
    """The probabilities a word is used for: from, up to."""
    bounds = [1.0, *(bound for bound, _ in WORDS)]
    place = [name for _, name in WORDS].index(text)
    return bounds[place + 1], bounds[place]


def holds(rate: WordRate) -> bool | None:
    """Whether the hit rate's bounds meet what the word promises; None where it was never shown."""
    if rate.shown == 0:
        return None
    low, high = promised(rate.word)
    return rate.low < high and rate.high >= low
