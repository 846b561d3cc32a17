"""One likelihood ratio per record and cue, kept as a few values and an index into them.

A ratio is P(cue | record) / P(cue | average record): 1 says nothing. Unknown attributes are 1
(silence of a guide is neutral). Denial takes 1 - M, a hedge moves M towards the marginal, and
M never falls below the floor, so no single cue is a veto.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import HEDGE_WEIGHT, RANKING, Cue
from catalog.resolve.likelihood import NO_PORT_MARK, Vector, scorer, terms_of
from catalog.resolve.names import name_evidence
from catalog.resolve.parameters import Parameters
from catalog.resolve.scorer import Scorer
from catalog.resolve.tables import Tables


@dataclass(frozen=True, eq=False)
class Evidence:
    """What one cue says of every record: `values[index]`, a handful of values for any number of records.

    values: ratios. mixed_values: the ratios an unlisted relative of each record would get (kappa of
    it mutated). index: one small number per record. novel: how much likelier the cue is from an
    unlisted vehicle (1 = no news). few: the positions of all records that do not have the last
    value, where that is known (names: most records have another name altogether).
    """

    cue: Cue
    values: Vector
    mixed_values: Vector
    index: NDArray[Any]
    novel: float = 1.0
    few: NDArray[Any] | None = None

    @cached_property
    def ratio(self) -> Vector:
        """One ratio per record."""
        return np.asarray(self.values[self.index], dtype=np.float64)

    def at(self, position: int) -> float:
        """The ratio of one record."""
        return float(self.values[self.index[position]])

    @property
    def favours(self) -> bool:
        """Whether the cue speaks for any record. Every value is some record's."""
        return bool((self.values > 1).any())


def evidence(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    """The evidence of one cue; None when it cannot rank (shown only, or no record restricts it)."""
    if cue.attribute not in RANKING or tables.size == 0:
        return None
    if cue.attribute == "name":
        return _named(cue, tables, parameters)
    if cue.attribute == "vin":
        return _numbered(cue, tables, parameters)
    return _categorical(cue, tables, parameters)


@dataclass(frozen=True, eq=False)
class _Attribute:
    """What is the same for every cue about an attribute. index: signature of each record. shares: prior
    mass of each signature."""

    scorer: Scorer
    index: NDArray[Any]
    shares: Vector


@lru_cache(maxsize=128)
def _attribute(attribute: str, tables: Tables, parameters: Parameters) -> _Attribute:
    """Kept for a few editions: a cue then costs as many numbers as there are signatures."""
    signatures: Sequence[Any] = tables.meta["signatures"][attribute]
    index = tables.arrays[f"sig_{attribute}"]
    shares = np.bincount(index, weights=tables.arrays["prior"], minlength=len(signatures))
    return _Attribute(scorer(attribute, signatures, parameters), index, np.asarray(shares, dtype=np.float64))


def _categorical(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    about = _attribute(cue.attribute, tables, parameters)
    raw = about.scorer.score(cue.values)
    if np.isnan(raw).all():
        return None
    if cue.attribute == "colour":
        values, strange = _colour_ratio(raw, cue), 1.0
        if (values == 1).all():
            return None
    else:
        values, strange = _ratios(raw, about.shares, cue, parameters)
    mixed = (1 - parameters.kappa) * values + parameters.kappa * strange
    return Evidence(cue, values, mixed, about.index)


def _ratios(raw: Vector, shares: Vector, cue: Cue, parameters: Parameters) -> tuple[Vector, float]:
    """The ratio of each signature, and of a mutated attribute of an unlisted vehicle.

    Mutations are drawn half from this catalogue and half evenly from the whole vocabulary, so
    that what no record here has (a motorcycle among cars) points outside the catalogue.
    """
    silent, plugless = np.isnan(raw), raw == NO_PORT_MARK
    known = ~(silent | plugless)
    said = np.where(known, raw, 0.0)
    terms = len(terms_of(cue.attribute))
    even = len(cue.values) / max(1, terms)
    if cue.denied:
        said, even = 1 - said, 1 - even
    said = np.clip(said, parameters.floor, 1.0)
    weights = np.where(known, shares, 0.0)
    total = float(weights.sum())
    marginal = float(np.dot(weights, said)) / total if total > 0 else 1.0
    hedge = HEDGE_WEIGHT[cue.doubt]
    ratio = ((1 - hedge) * said + hedge * marginal) / marginal
    ratio[silent] = 1.0
    ratio[plugless] = (1 - hedge) * (1.0 if cue.denied else parameters.no_port) + hedge
    strange = 0.5 + 0.5 * even / marginal if terms else 1.0
    return np.asarray(ratio, dtype=np.float64), (1 - hedge) * strange + hedge


def _colour_ratio(raw: Vector, cue: Cue) -> Vector:
    """Already relative to any vehicle; a record without a restriction stays at exactly 1."""
    ratio = np.where(np.isnan(raw), 1.0, raw)
    if cue.denied:
        ratio = np.where(np.isnan(raw), 1.0, np.where(raw > 1, 0.3, 1.0))
    hedge = HEDGE_WEIGHT[cue.doubt]
    return np.asarray((1 - hedge) * ratio + hedge, dtype=np.float64)


def _numbered(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    """A VIN either fits a listed pattern or none. A vehicle whose pattern is not on file, listed or
    not, hardly fits another's."""
    table = parameters.tables["vin"]
    about = _attribute("vin", tables, parameters)
    fits = about.scorer.score(cue.values)
    known = ~np.isnan(fits)
    if cue.denied or not known.any():
        return None
    matched = bool((fits[known] == table["match"]).any())
    stranger = table["novel_match"] if matched else 1 - table["novel_match"]
    said = np.where(known, fits if matched else 1 - table["match"], stranger)
    marginal = float(np.dot(about.shares, said))
    hedge = HEDGE_WEIGHT[cue.doubt]
    values = (1 - hedge) * said / marginal + hedge
    novel = (1 - hedge) * stranger / marginal + hedge
    return Evidence(cue, values, np.ones(len(values)), about.index, float(novel))


def _named(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence:
    found = name_evidence(cue.values, tables, parameters)
    values = found.values
    if cue.denied:
        # "not a Kelvik": those that carry the name lose what they would have gained.
        values = np.where(values > 1, np.maximum(parameters.floor, 1 / values), 1.0)
    hedge = HEDGE_WEIGHT[cue.doubt]
    values = np.asarray((1 - hedge) * values + hedge, dtype=np.float64)
    novel = 1.0 if cue.denied else (1 - hedge) * found.novel + hedge
    return Evidence(cue, values, np.ones(len(values)), found.index, novel, found.few)


def gather(cues: tuple[Cue, ...], tables: Tables, parameters: Parameters) -> tuple[Evidence, ...]:
    """Evidence of every cue that ranks, in an order that does not depend on the text's."""
    unique: Mapping[object, Cue] = {(cue.key, cue.doubt): cue for cue in cues}
    ordered = sorted(unique.values(), key=lambda cue: (cue.attribute, cue.values, cue.denied, cue.doubt))
    made = (evidence(cue, tables, parameters) for cue in ordered)
    return tuple(entry for entry in made if entry is not None)
