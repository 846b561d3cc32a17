"""What each answer to a question would do: the same likelihoods as any cue's, worked out ahead.

P(answer | record) is the confusion table's; where a record says nothing it is that of vehicles at
large. What the answers leave over of a row is an answer that is none of them, and changes nothing.
The factors are those `posterior` multiplies by, tempered.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.evidence import Evidence, attribute_of, evidence
from catalog.resolve.likelihood import NO_PORT_MARK
from catalog.resolve.parameters import Parameters
from catalog.resolve.questions.standing import Standing
from catalog.resolve.questions.table import Question
from catalog.resolve.said import entropy
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables


@dataclass(frozen=True, eq=False)
class Outcomes:
    """index: the kind of each of the records that stand; mass: share of each kind. law: (kinds, answers) P(answer
    | kind); spread: entropy of each of its rows, in bits. factor: (kinds, answers) what the answer multiplies a
    record's share by. unlisted_law, unlisted_factor: (answers,).
    """

    index: NDArray[np.intp]
    mass: Vector
    law: Vector
    spread: Vector
    factor: Vector
    unlisted_law: Vector
    unlisted_factor: Vector


def outcomes(question: Question, stands: Standing) -> Outcomes | None:
    """Of a question with options; None where no record says anything about it."""
    tables, parameters = stands.field.tables, stands.field.parameters
    found = _options(question, tables, parameters)
    if found is None:
        return None
    # Signatures the records that stand do not have are kept: they weigh nothing.
    kin = np.bincount(found.index, weights=stands.relatives, minlength=len(found.law)) @ found.mixed
    index = found.index[stands.records].astype(np.intp)
    return Outcomes(
        index=index,
        mass=mass_of(index, stands, len(found.law)),
        law=found.law,
        spread=found.spread,
        factor=found.factor,
        unlisted_law=at_most_all(kin * found.usual),
        unlisted_factor=kin ** (1 / parameters.temperature),
    )


@dataclass(frozen=True, eq=False)
class _Options:
    """(signatures, answers). usual: P(answer) of vehicles at large. mixed: as in `Weights`."""

    index: NDArray[Any]
    law: Vector
    spread: Vector
    usual: Vector
    factor: Vector
    mixed: Vector


@lru_cache(maxsize=256)
def _options(question: Question, tables: Tables, parameters: Parameters) -> _Options | None:
    """Kept for a few editions."""
    weighed = [evidence(cue, tables, parameters) for cue in question.cues]
    found = [entry for entry in weighed if entry is not None]
    if len(found) < len(weighed):
        return None
    law, usual = _law(question, tables, parameters)
    factor = np.column_stack([tempered(entry, parameters) for entry in found])
    mixed = np.column_stack([entry.weights.mixed for entry in found])
    return _Options(found[0].index, law, spread_of(law), usual, factor, mixed)


def spread_of(law: Vector) -> Vector:
    """Entropy of each row in bits, an answer that is none of them included."""
    return entropy(np.column_stack((law, np.maximum(0.0, 1 - law.sum(axis=1)))))


def mass_of(index: NDArray[np.intp], stands: Standing, kinds: int) -> Vector:
    """The share of each kind of record."""
    return np.asarray(np.bincount(index, weights=stands.shares, minlength=kinds), dtype=np.float64)


def tempered(entry: Evidence, parameters: Parameters) -> Vector:
    """What the evidence multiplies a record's share by, for each of its codes."""
    return np.asarray(entry.weights.values ** (1 / parameters.temperature))


def at_most_all(chances: Vector) -> Vector:
    """(..., answers) scaled down where the answers of a row add up to more than 1."""
    return np.asarray(chances / np.maximum(1.0, chances.sum(axis=-1, keepdims=True)))


def _law(question: Question, tables: Tables, parameters: Parameters) -> tuple[Vector, Vector]:
    about = attribute_of(question.attribute, bool(question.frame), tables, parameters)
    raw = np.column_stack([about.scorer.score(option.values) for option in question.options])
    silent, plugless = np.isnan(raw[:, 0]), raw[:, 0] == NO_PORT_MARK
    known = ~(silent | plugless)
    raw = np.clip(np.where(known[:, None], raw, 0.0), parameters.floor, 1.0)
    shares = np.where(known, about.shares, 0.0)
    # Where nobody states it, only whether there is a port at all tells: any place is as likely said as any other.
    usual = shares @ raw / shares.sum() if shares.any() else np.full(raw.shape[1], 1 / raw.shape[1])
    raw[silent] = usual
    raw[plugless] = parameters.no_port * usual
    return at_most_all(raw), usual
