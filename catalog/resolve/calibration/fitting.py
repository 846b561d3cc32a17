"""Temperature and bias of vehicles not listed, fitted to descriptions whose vehicle is known.

For each temperature of a grid the search itself says what each label's truth has of the listed, and how the
unlisted stand to them; the bias only scales the latter, so it is found by itself. The least mean surprise wins.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.calibration.labels import Label, placed
from catalog.resolve.evidence import gather
from catalog.resolve.field import Field
from catalog.resolve.parameters import expert
from catalog.resolve.posterior import Posterior, posterior
from catalog.resolve.scorer import Vector

TEMPERATURES = np.round(np.geomspace(0.6, 3.0, 41), 2)
_FOLDS = 5
_BIASES = np.round(np.linspace(-4, 4, 81), 2)
# The bias of few descriptions is drawn towards none, by a normal distribution one nat wide.
_PULL = 0.5
_SEED = 20261125


@dataclass(frozen=True, eq=False)
class Standings:
    """Of each temperature and label, before a bias: (T, n) the truth's share among the listed (1 where it is not
    listed), and the odds of the unlisted against all listed. Of each label: what the cap adds, and whether it is
    not listed or a denial."""

    truth: Vector
    odds: Vector
    base: Vector
    unlisted: NDArray[np.bool_]
    denied: NDArray[np.bool_]
    cap: float


def standings(labels: Sequence[tuple[Label, int]], field: Field) -> Standings:
    """Ask the search for every label at every temperature. labels: as `placed` gives them."""
    kept = [label for label, _ in labels]
    targets = np.array([target for _, target in labels], dtype=np.intp)
    listed, rate = targets >= 0, field.unlisted_rate
    base = np.where(listed, (1 - rate) * np.asarray(field.tables.arrays["prior"])[targets], rate)
    truth, odds = (np.ones((len(TEMPERATURES), len(kept))) for _ in range(2))
    cap = expert().cap
    for row, temperature in enumerate(TEMPERATURES):
        where = replace(field, parameters=replace(expert(), temperature=float(temperature), unlisted_bias=0.0))
        known: dict[object, Posterior] = {}  # short descriptions come again
        for at, label in enumerate(kept):
            if label.cues not in known:
                known[label.cues] = posterior(gather(label.cues, where.tables, where.parameters), where)
            found = known[label.cues]
            # The cap mixed a little of the prior back; it is taken out again here, and put back with the bias.
            unlisted = (found.unlisted - cap * rate) / (1 - cap)
            odds[row, at] = unlisted / (1 - unlisted)
            if listed[at]:
                share = (float(found.records[targets[at]]) - cap * base[at]) / (1 - cap)
                truth[row, at] = max(share, 0.0) / (1 - unlisted)
    denied = np.array([label.denied for label in kept], dtype=bool)
    return Standings(truth, odds, base, ~listed, denied, cap)


def surprise(found: Standings, row: int, bias: float) -> Vector:
    """Of each label, in nats, at the row-th temperature and a bias."""
    odds = found.odds[row] * np.exp(bias)
    share = np.where(found.unlisted, odds, found.truth[row]) / (1 + odds)
    chance = (1 - found.cap) * share + found.cap * found.base
    return np.asarray(-np.log(np.where(found.denied, 1 - chance, chance)))


@dataclass(frozen=True, slots=True)
class Fitted:
    """The fit to all labels, and the surprise of each label by a fit to the others (by record, five parts)."""

    temperature: float
    bias: float
    held_out: Vector


def fitted(labels: Sequence[Label], field: Field) -> Fitted:
    """Raises ValueError for fewer than two labels."""
    known = placed(labels, field.tables)
    if len(known) < 2:
        raise ValueError("one description says nothing of many")
    found = standings(known, field)
    everything = np.stack([[surprise(found, row, bias) for bias in _BIASES] for row in range(len(TEMPERATURES))])
    fold = _folds([label.code for label, _ in known])
    held = np.empty(len(known))
    for part in range(_FOLDS):
        out = fold == part
        row, place = _best(everything[:, :, ~out])
        held[out] = everything[row, place, out]
    row, place = _best(everything)
    return Fitted(float(TEMPERATURES[row]), float(_BIASES[place]), held)


def _best(surprises: Vector) -> tuple[int, int]:
    """(row, place) of the least mean, drawn a little towards no bias. surprises: (T, biases, n)."""
    total = surprises.sum(axis=2) + _PULL * _BIASES**2
    row, place = np.unravel_index(int(total.argmin()), total.shape)
    return int(row), int(place)


def _folds(codes: Sequence[str]) -> NDArray[np.intp]:
    """Which of five parts each label is in: those of one record together; those of none dealt out in turn."""
    draw = Random(_SEED)  # noqa: S311  repeatable on purpose
    known = sorted({code for code in codes if code})
    draw.shuffle(known)
    part = {code: at % _FOLDS for at, code in enumerate(known)}
    return np.array([part[code] if code else at % _FOLDS for at, code in enumerate(codes)], dtype=np.intp)
