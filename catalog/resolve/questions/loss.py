"""What is lost by not knowing: of every brief fact first, of which vehicle it is second.

L(p) = sum_f c_f (1 - max_x P(f = x)) + c_id (1 - max_g P(g)): the chance of acting on a wrong value,
weighed by what that costs; c_f add up to 1. Only stated values count: silence and vehicles not in
this catalogue count against each. g is a set of records on which a crew acts the same, or "not in
this catalogue". Values that hardly any vehicle has now are not followed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.brief_facts import FACTS
from catalog.resolve.fact_chances import LISTED
from catalog.resolve.fact_index import indexed_facts
from catalog.resolve.questions.outcomes import Outcomes
from catalog.resolve.questions.standing import Standing
from catalog.resolve.scorer import Vector
from catalog.resolve.tables import Tables

WEIGHTS: Vector = np.array([fact.weight for fact in FACTS], dtype=np.float64)
WEIGHTS /= WEIGHTS.sum()


@dataclass(frozen=True, eq=False)
class Stakes:
    """What hangs on the shares: the values that are followed, each a column, those of a fact side by side and the
    sets of records last. record, column, share: each record that stands beside each of its columns. starts: first
    column of each fact, and of the sets; `columns` of all.
    """

    stands: Standing
    record: NDArray[np.intp]
    column: NDArray[np.intp]
    share: Vector
    starts: NDArray[np.intp]
    columns: int

    def now(self) -> Vector:
        """(facts + 1,): chance of the likeliest value of each fact, and of the likeliest set of records."""
        shares = _added(self.column, self.share, (1, self.columns))
        return np.asarray(self._best(shares, np.array([self.stands.unlisted]))[0])

    def then(self, found: Sequence[Outcomes]) -> Vector:
        """(answers, facts + 1): the same after each answer to each question, one question after the other."""
        stands, shares, unlisted = self.stands, [], []
        for each in found:
            places = (each.index * self.columns)[self.record] + self.column
            joint = _added(places, self.share, (len(each.law), self.columns))
            factor = each.unlisted_factor * stands.unlisted
            whole = each.mass @ each.factor + factor
            shares.append((each.factor / whole).T @ joint)
            unlisted.append(factor / whole)
        return self._best(np.concatenate(shares), np.concatenate(unlisted))

    def _best(self, shares: Vector, unlisted: Vector) -> Vector:
        """The cap of `posterior` put on again; what each value had before anything was said is left out of it."""
        keep = 1 - self.stands.field.parameters.cap
        best = keep * np.maximum.reduceat(shares, self.starts, axis=1)
        best[:, -1] = np.maximum(best[:, -1], keep * unlisted)
        return np.asarray(best)


def losses(best: Vector, identity_weight: float) -> Vector:
    """L of each row of `Stakes.now` or `Stakes.then`."""
    return np.asarray((1 - best) @ np.append(WEIGHTS, identity_weight))


def stakes(stands: Standing) -> Stakes:
    """What hangs on the shares of these records."""
    told = _told(stands.field.tables)
    ids = told.values[:, stands.records].astype(np.intp)
    weights = np.broadcast_to(stands.shares, ids.shape).ravel()
    shares = _added(ids.ravel(), weights, (1, told.size))[0]
    shares[told.silent] = 0.0
    said = np.flatnonzero(shares)
    most = np.zeros(len(told.starts))
    np.maximum.at(most, told.row[said], shares[said])
    kept = said[(shares[said] >= LISTED) | (shares[said] == most[told.row[said]])]
    followed = np.union1d(kept, told.starts[most == 0])  # every row keeps a column, if only an empty one
    column = np.full(told.size, len(followed), dtype=np.intp)
    column[followed] = np.arange(len(followed))
    column[told.silent] = len(followed)
    mine = column[ids.T].ravel()
    kept = np.flatnonzero(mine < len(followed))
    record = kept // len(ids)
    return Stakes(
        stands=stands,
        record=record,
        column=mine[kept],
        share=stands.shares[record],
        starts=np.searchsorted(followed, told.starts),
        columns=len(followed),
    )


def _added(places: NDArray[np.intp], weights: Vector, shape: tuple[int, int]) -> Vector:
    """Sums of the weights by place, in rows."""
    made = np.bincount(places, weights=weights, minlength=shape[0] * shape[1])
    return np.asarray(made, dtype=np.float64).reshape(shape)


@dataclass(frozen=True, eq=False)
class _Told:
    """values: (facts + 1, records of the edition) number of each value among those of all facts; the last row
    tells which records say the same of every fact. starts: first number of each row; row: the row of each number."""

    values: NDArray[np.int32]
    starts: NDArray[np.intp]
    row: NDArray[np.intp]
    silent: NDArray[np.intp]
    size: int


@lru_cache(maxsize=4)
def _told(tables: Tables) -> _Told:
    """Kept for a few editions."""
    indexed, facts = indexed_facts(tables), np.asarray(tables.arrays["facts"], dtype=np.int32)
    starts = np.append(indexed.starts, indexed.size)
    values = np.vstack((facts, indexed.alike)) + starts[:, None].astype(np.int32)
    size = indexed.size + int(indexed.alike.max(initial=-1)) + 1
    row = np.repeat(np.arange(len(starts)), np.diff(starts, append=size))
    return _Told(values.astype(np.int32), starts, row, indexed.silent, size)
