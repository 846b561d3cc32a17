"""How sure, in words: a word, "about 7 in 10", and ten boxes shared by a whole page."""

import itertools
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

_MOST = 19  # halves; the tenth box never closes

# (lower bound, word). Each bound is one of the bounds below, so a word and its frequency never
# disagree. Whether each word holds as often as it says is for evaluations to show.
WORDS: tuple[tuple[float, str], ...] = (
    (0.95, "nearly sure"),
    (0.85, "very likely"),
    (0.65, "likely"),
    (0.35, "about even"),
    (0.15, "possible"),
    (0.075, "unlikely"),
    (0.0, "remote"),
)
# (lower bound, frequency), to the nearest tenth. Never 10 in 10: display stops at "over 19 in 20".
FREQUENCIES: tuple[tuple[float, str], ...] = (
    (0.95, "over 19 in 20"),
    (0.85, "about 9 in 10"),
    (0.75, "about 8 in 10"),
    (0.65, "about 7 in 10"),
    (0.55, "about 6 in 10"),
    (0.45, "about 5 in 10"),
    (0.35, "about 4 in 10"),
    (0.25, "about 3 in 10"),
    (0.15, "about 2 in 10"),
    (0.075, "about 1 in 10"),
    (0.025, "about 1 in 20"),
    (0.0, "fewer than 1 in 20"),
)
_RISING = tuple(bound for bound, _ in reversed(FREQUENCIES))
_SAID = tuple((next(word for least, word in WORDS if least <= bound), said) for bound, said in reversed(FREQUENCIES))


def said(probability: float) -> tuple[str, str]:
    """Word and frequency: ("likely", "about 7 in 10"). Raises ValueError below 0."""
    if probability < 0:
        raise ValueError(f"{probability} is no probability")
    return _SAID[bisect_right(_RISING, probability) - 1]


def word(probability: float) -> str:
    """The word for a probability."""
    return said(probability)[0]


def frequency(probability: float) -> str:
    """ "about 7 in 10"."""
    return said(probability)[1]


@dataclass(frozen=True, slots=True)
class Boxes:
    """One row of the shared scale of ten, in halves. start and length: 0 to 19, never closing the tenth."""

    start: int
    length: int


def boxes(probabilities: Sequence[float], kept: int | None = None) -> tuple[Boxes, ...]:
    """Rows in page order. Each starts where the one before ended; together they never pass 19 halves.

    A row is as long as its words say ("about 7 in 10" is seven boxes). Words rounded up can add
    up to more than ten; then the row rounded up most gives a half away, so that a larger
    probability is never drawn shorter than a smaller one. kept: place of a row that never loses its last half.
    """
    lengths = [_halves(probability) for probability in probabilities]
    while sum(lengths) > _MOST:
        drawn = (place for place, length in enumerate(lengths) if length > (place == kept))
        lengths[max(drawn, key=lambda place: (lengths[place] - 20 * probabilities[place], place))] -= 1
    starts = itertools.accumulate(lengths, initial=0)
    return tuple(Boxes(start, length) for start, length in zip(starts, lengths, strict=False))


def _halves(probability: float) -> int:
    """The halves that `frequency` promises."""
    if probability >= 0.95:
        return _MOST
    if probability >= 0.075:
        return 2 * min(9, int(probability * 10 + 0.5))
    return 1 if probability >= 0.025 else 0
