"""How sure, in words: a word, "about 7 in 10", and ten boxes shared by a whole page."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

_MOST = 19  # halves; the tenth box never closes

# (lower bound, word). Bounds lie between the tenths that `frequency` rounds to, so a word and its
# frequency never disagree. Whether each word holds as often as it says is for evaluations to show.
WORDS: tuple[tuple[float, str], ...] = (
    (0.95, "nearly sure"),
    (0.85, "very likely"),
    (0.65, "likely"),
    (0.35, "about even"),
    (0.15, "possible"),
    (0.075, "unlikely"),
    (0.0, "remote"),
)


def word(probability: float) -> str:
    """The word for a probability."""
    for bound, text in WORDS:
        if probability >= bound:
            return text
    raise ValueError(f"{probability} is no probability")


def frequency(probability: float) -> str:
    """ "about 7 in 10". Never 10 in 10: display stops at "over 19 in 20"."""
    if probability >= 0.95:
        return "over 19 in 20"
    tenths = min(9, int(probability * 10 + 0.5))
    if probability >= 0.075:
        return f"about {tenths} in 10"
    return "about 1 in 20" if probability >= 0.025 else "fewer than 1 in 20"


@dataclass(frozen=True, slots=True)
class Boxes:
    """One row of the shared scale of ten, in halves. start and length: 0 to 19, never closing the tenth."""

    start: int
    length: int


def boxes(probabilities: Sequence[float]) -> tuple[Boxes, ...]:
    """Rows in page order. Each starts where the one before ended; together they never pass 19 halves.

    A row is as long as its words say ("about 7 in 10" is seven boxes). Words rounded up can add
    up to more than ten; then the row rounded up most gives a half away, so that a larger
    probability is never drawn shorter than a smaller one.
    """
    lengths = [_halves(probability) for probability in probabilities]
    while sum(lengths) > _MOST:
        drawn = (place for place, length in enumerate(lengths) if length)
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
