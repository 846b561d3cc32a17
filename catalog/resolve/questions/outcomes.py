"""What each answer to a question would do: the same likelihoods as any cue's, worked out ahead.

P(answer | record) is the confusion table's; where a record says nothing it is that of vehicles at
large. What the answers leave over of a row is an answer that is none of them, and changes nothing.
The factors are those `posterior` multiplies by, tempered.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import Cue
from catalog.resolve.evidence import Evidence, evidence
from catalog.resolve.lexicon import LEVELS
from catalog.resolve.likelihood import NO_PORT_MARK, scorer
from catalog.resolve.lookalikes import names_of_records
from catalog.resolve.parameters import Parameters
from catalog.resolve.questions.standing import Standing
from catalog.resolve.questions.table import Question
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables


@dataclass(frozen=True, eq=False)
class Outcomes:
    """index: the kind of each of the records that stand. law: (kinds, answers) P(answer | kind). factor:
    (kinds, answers) what the answer multiplies a record's share by. unlisted_law, unlisted_factor: (answers,).
    """

    index: NDArray[Any]
    law: Vector
    factor: Vector
    unlisted_law: Vector
    unlisted_factor: Vector


def outcomes(question: Question, stands: Standing, names: int) -> Outcomes | None:
    """None where no record says anything about it. names: most makes thought of as answers."""
    if not question.options:
        return _of_names(stands, names)
    tables, parameters = stands.field.tables, stands.field.parameters
    found = _options(question, tables, parameters)
    if found is None:
        return None
    # Signatures the records that stand do not have are kept: they weigh nothing.
    kin = np.bincount(found.index, weights=stands.relatives, minlength=len(found.law)) @ found.mixed
    return Outcomes(
        index=found.index[stands.records],
        law=found.law,
        factor=found.factor,
        unlisted_law=_at_most_all(kin * found.usual),
        unlisted_factor=kin ** (1 / parameters.temperature),
    )


@dataclass(frozen=True, eq=False)
class _Options:
    """(signatures, answers). usual: P(answer) of vehicles at large. mixed: as in `Weights`."""

    index: NDArray[Any]
    law: Vector
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
    factor = np.column_stack([_tempered(entry, parameters) for entry in found])
    return _Options(found[0].index, law, usual, factor, np.column_stack([entry.weights.mixed for entry in found]))


def _tempered(entry: Evidence, parameters: Parameters) -> Vector:
    return np.asarray(entry.weights.values ** (1 / parameters.temperature))


def _at_most_all(chances: Vector) -> Vector:
    """(..., answers) scaled down where the answers of a row add up to more than 1."""
    return np.asarray(chances / np.maximum(1.0, chances.sum(axis=-1, keepdims=True)))


def _law(question: Question, tables: Tables, parameters: Parameters) -> tuple[Vector, Vector]:
    signatures: Sequence[Any] = tables.meta["signatures"][question.attribute]
    asked = scorer(question.attribute, signatures, parameters)
    raw = np.column_stack([asked.score(option.values) for option in question.options])
    silent, plugless = np.isnan(raw[:, 0]), raw[:, 0] == NO_PORT_MARK
    known = ~(silent | plugless)
    raw = np.clip(np.where(known[:, None], raw, 0.0), parameters.floor, 1.0)
    index = tables.arrays[f"sig_{question.attribute}"]
    shares = np.where(known, np.bincount(index, weights=tables.arrays["prior"], minlength=len(signatures)), 0.0)
    usual = shares @ raw / shares.sum()
    raw[silent] = usual
    raw[plugless] = parameters.no_port * usual
    return _at_most_all(raw), usual


def _of_names(stands: Standing, names: int) -> Outcomes | None:
    """The answers thought of are the makes of the records that stand, likeliest first, heard rightly.

    P(name heard | record) is the ratio times P(name heard at all), which is how common the make is.
    """
    tables, parameters = stands.field.tables, stands.field.parameters
    makes = _makes(tables)
    mine = makes.number[stands.records]
    shares = np.bincount(mine[mine >= 0], weights=stands.shares[mine >= 0])
    asked = np.argsort(-shares, kind="stable")[: min(names, np.count_nonzero(shares))]
    if asked.size == 0:
        return None
    found = [_heard(int(make), tables, parameters) for make in asked]
    kinds = np.zeros(len(stands.records), dtype=np.int64)  # a record's level for each make, as one number
    for entry in found:
        kinds = kinds * len(LEVELS) + entry.index[stands.records]
    _, first, index = np.unique(kinds, return_index=True, return_inverse=True)
    like = stands.records[first]
    novel = np.array([entry.weights.novel for entry in found])
    ratio = np.column_stack([entry.weights.values[entry.index[like]] for entry in found])
    common = makes.common[asked]
    return Outcomes(
        index=index,
        law=_at_most_all(ratio * common),
        factor=ratio ** (1 / parameters.temperature),
        unlisted_law=_at_most_all(novel * common),
        unlisted_factor=novel ** (1 / parameters.temperature),
    )


@lru_cache(maxsize=512)
def _heard(name: int, tables: Tables, parameters: Parameters) -> Evidence:
    """The evidence of a name heard rightly."""
    found = evidence(Cue("name", (str(tables.meta["names"][name][0]),), (), ""), tables, parameters)
    assert found is not None, "a name always ranks"
    return found


@dataclass(frozen=True, eq=False)
class _Makes:
    """number: the name that is each record's make, -1 where none is. common: prior mass of each name as a make."""

    number: NDArray[np.intp]
    common: Vector


@lru_cache(maxsize=4)
def _makes(tables: Tables) -> _Makes:
    pointers, ids = names_of_records(tables)
    is_make = np.array([kind == "make" for _, _, kind in tables.meta["names"]], dtype=np.bool_)
    number = np.full(tables.size, -1, dtype=np.intp)
    for record in range(tables.size):
        mine = ids[pointers[record] : pointers[record + 1]]
        number[record] = next(iter(mine[is_make[mine]]), -1)
    known = number >= 0
    common = np.bincount(number[known], weights=tables.arrays["prior"][known], minlength=len(is_make))
    return _Makes(number, np.asarray(common, dtype=np.float64))
