"""What a set of parameters makes of descriptions whose vehicle is known."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from catalog.resolve.calibration.labels import Label, placed
from catalog.resolve.evidence import gather
from catalog.resolve.explain import tells_apart
from catalog.resolve.field import Field
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.scorer import Vector

# Rows a page shows before it is asked for more.
_ROWS = 3


@dataclass(frozen=True, eq=False)
class Measured:
    """nll: of each label, in nats. firsts: each first answer's probability and whether it was right, of labels whose
    vehicle is known. rows: the same of every row shown at first, "not in this catalogue" among them."""

    nll: Vector
    firsts: tuple[tuple[float, bool], ...]
    rows: tuple[tuple[float, bool], ...]


def measure(labels: Sequence[Label], field: Field) -> Measured:
    """Labels count as `placed` places them."""
    nll: list[float] = []
    firsts: list[tuple[float, bool]] = []
    rows: list[tuple[float, bool]] = []
    for label, target in placed(labels, field.tables):
        found = posterior(gather(label.cues, field.tables, field.parameters), field)
        nll.append(-float(np.log(_chance(found, target, denied=label.denied))))
        if tells_apart(found):
            shown = list(_shown(found, target, denied=label.denied))
            rows += shown
            if not label.denied:
                firsts.append(max(shown, key=lambda row: row[0]))
    return Measured(np.array(nll), tuple(firsts), tuple(rows))


def _chance(found: Posterior, target: int, *, denied: bool) -> float:
    """Of what is known; of "not this vehicle" everything but it."""
    chance = found.unlisted if target < 0 else float(found.records[target])
    return 1 - chance if denied else chance


def _shown(found: Posterior, target: int, *, denied: bool) -> Iterator[tuple[float, bool]]:
    """The first rows. Of a denied vehicle only its own row is known, to be wrong."""
    first = [int(place) for place in found.order(_ROWS)]
    if denied:
        if target in first:
            yield float(found.records[target]), False
        return
    for place in first:
        yield float(found.records[place]), place == target
    yield found.unlisted, target < 0


def mean_and_error(values: Vector) -> tuple[float, float]:
    """The mean and its standard error; of fewer than two, no error is known."""
    if len(values) < 2:
        return (float(values.mean()) if len(values) else 0.0), float("inf")
    return float(values.mean()), float(values.std(ddof=1) / np.sqrt(len(values)))
