"""One likelihood ratio per record and cue, kept as a few values and an index into them.

A ratio is P(cue | record) / P(cue | average record): 1 says nothing. Unknown attributes are 1
(silence of a guide is neutral). Denial takes 1 - M, a hedge moves M towards the marginal, and
M never falls below the floor, so no single cue is a veto.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import ASKED, HEDGE_WEIGHT, RANKING, RECORD, Cue, Doubt
from catalog.resolve.likelihood import NO_PORT_MARK, MarkedScorer, Vector, scorer, terms_of
from catalog.resolve.likelihood_numbers import is_clear
from catalog.resolve.names import name_evidence
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables

# A name that fewer than one record in so many comes near is applied to these alone.
_FEW = 4


class Said(NamedTuple):
    """All of a cue that its weights depend on. told: whether it was said from where its sides are."""

    attribute: str
    values: tuple[str, ...]
    denied: bool
    doubt: Doubt
    told: bool


@dataclass(frozen=True, eq=False)
class Weights:
    """What a cue says of records, by a small code: for closed vocabularies the same whoever says it.

    values: ratios. mixed: the ratios an unlisted relative of such a record would get (kappa of it
    mutated). columns: (K, 2) tempered ratios beside mixed ones, each divided by its entry in `over`.
    over: the logs of what both were divided by. novel: how much likelier the cue is from an unlisted
    vehicle (1 = no news).
    """

    values: Vector
    mixed: Vector
    columns: Vector
    over: tuple[float, float]
    novel: float


@dataclass(frozen=True, eq=False)
class Evidence:
    """One cue weighed. index: the code of each record.

    few: the positions of all records that do not have the last code, where they are few: the last
    row of the columns is then 1 (names: most records have another name altogether).
    """

    cue: Cue
    weights: Weights
    index: NDArray[Any]
    few: NDArray[Any] | None = None

    @cached_property
    def ratio(self) -> Vector:
        """One ratio per record."""
        return np.asarray(self.weights.values[self.index], dtype=np.float64)

    def at(self, position: int) -> float:
        """The ratio of one record."""
        return float(self.weights.values[self.index[position]])

    @property
    def favours(self) -> bool:
        """Whether the cue speaks for any record. Every code is some record's."""
        return bool((self.weights.values > 1).any())


def weights_of(
    values: Vector, mixed: Vector, novel: float, parameters: Parameters, *, by_last: bool = False
) -> Weights:
    """Weights of these ratios. by_last: divide by the last row instead of the largest entry."""
    columns = np.column_stack((values ** (1 / parameters.temperature), mixed))
    top = columns[-1] if by_last else columns.max(axis=0)
    over = (math.log(top[0]), math.log(top[1]))
    return Weights(values, mixed, columns / top, over, novel)


def evidence(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    """The evidence of one cue; None when it cannot rank (shown only, or no record restricts it)."""
    if cue.attribute == RECORD:
        return _not_these(cue, tables, parameters)
    if cue.attribute not in RANKING or tables.size == 0:
        return None
    if cue.attribute == "name":
        return _named(cue, tables, parameters)
    kind = _numbered if cue.attribute == "vin" else _categorical
    said = Said(cue.attribute, cue.values, cue.denied, cue.doubt, bool(cue.viewpoint))
    weights = kind(said, tables, parameters)
    return None if weights is None else Evidence(cue, weights, tables.arrays[f"sig_{cue.attribute}"])


@dataclass(frozen=True, eq=False)
class Attribute:
    """What is the same for every cue about an attribute. shares: prior mass of each signature."""

    scorer: MarkedScorer
    shares: Vector


@lru_cache(maxsize=128)
def attribute_of(attribute: str, told: bool, tables: Tables, parameters: Parameters) -> Attribute:
    """Kept for a few editions: a cue then costs as many numbers as there are signatures."""
    signatures: Sequence[Any] = tables.meta["signatures"][attribute]
    index = tables.arrays[f"sig_{attribute}"]
    shares = np.bincount(index, weights=tables.arrays["prior"], minlength=len(signatures))
    return Attribute(scorer(attribute, signatures, parameters, told=told), np.asarray(shares, dtype=np.float64))


@lru_cache(maxsize=2048)
def _categorical(said: Said, tables: Tables, parameters: Parameters) -> Weights | None:
    """What is said of closed vocabularies, years and places comes again and again: it is kept."""
    about = attribute_of(said.attribute, said.told, tables, parameters)
    raw = about.scorer.score(said.values)
    if np.isnan(raw).all():
        return None
    if said.attribute == "colour":
        ratio, strange = _colour_ratio(raw, said.denied, HEDGE_WEIGHT[said.doubt]), 1.0
        if (ratio == 1).all():
            return None
    else:
        ratio, strange = _ratios(raw, about.shares, said, parameters)
    mixed = (1 - parameters.kappa) * ratio + parameters.kappa * strange
    return weights_of(ratio, mixed, 1.0, parameters)


def _ratios(raw: Vector, shares: Vector, asked: Said, parameters: Parameters) -> tuple[Vector, float]:
    """The ratio of each signature, and of a mutated attribute of an unlisted vehicle.

    Mutations are drawn half from this catalogue and half evenly from the whole vocabulary, so
    that what no record here has (a motorcycle among cars) points outside the catalogue.
    """
    silent, plugless = np.isnan(raw), raw == NO_PORT_MARK
    known = ~(silent | plugless)
    said = np.where(known, raw, 0.0)
    terms = len(terms_of(asked.attribute))
    even = len(asked.values) / max(1, terms)
    if asked.denied:
        said, even = 1 - said, 1 - even
    said = np.clip(said, parameters.floor, 1.0)
    weights = np.where(known, shares, 0.0)
    total = float(weights.sum())
    marginal = float(np.dot(weights, said)) / total if total > 0 else 1.0
    hedge = HEDGE_WEIGHT[asked.doubt]
    ratio = ((1 - hedge) * said + hedge * marginal) / marginal
    ratio[silent] = 1.0
    ratio[plugless] = (1 - hedge) * (1.0 if asked.denied else parameters.no_port) + hedge
    strange = 0.5 + 0.5 * even / marginal if terms else 1.0
    return np.asarray(ratio, dtype=np.float64), (1 - hedge) * strange + hedge


def _colour_ratio(raw: Vector, denied: bool, hedge: float) -> Vector:
    """Already relative to any vehicle; a record without a restriction stays at exactly 1."""
    ratio = np.where(np.isnan(raw), 1.0, raw)
    if denied:
        ratio = np.where(np.isnan(raw), 1.0, np.where(raw > 1, 0.3, 1.0))
    return np.asarray((1 - hedge) * ratio + hedge, dtype=np.float64)


def _numbered(said: Said, tables: Tables, parameters: Parameters) -> Weights | None:
    """A VIN either fits a listed pattern or none. A vehicle whose pattern is not on file, listed or
    not, hardly fits another's; which of them, is a matter of how common they are."""
    table = parameters.tables["vin"]
    about = attribute_of(said.attribute, False, tables, parameters)
    fits = about.scorer.score(said.values)
    known = ~np.isnan(fits)
    if said.denied or not known.any():
        return None
    right = known & (fits == 1)
    common = float(about.shares[right].sum())
    if common > 0:
        astray, stranger = table["astray"] * common, table["novel_match"] * common
        if said.doubt is Doubt.FIRM and any(is_clear(value) for value in said.values):
            astray = stranger = table["clear_astray"] * common
    else:
        astray, stranger = 1 - table["match"], 1 - table["novel_match"]
    chance = np.where(known, np.where(right, table["match"], astray), stranger)
    marginal = float(np.dot(about.shares, chance))
    hedge = HEDGE_WEIGHT[said.doubt]
    ratio = (1 - hedge) * chance / marginal + hedge
    novel = (1 - hedge) * stranger / marginal + hedge
    return weights_of(ratio, np.ones(len(ratio)), float(novel), parameters)


def _named(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence:
    found = name_evidence(cue.values, tables, parameters)
    hedge, mistaken = HEDGE_WEIGHT[cue.doubt], parameters.tables["name"]["mistaken"]
    values, kin = found.values, found.kin
    if cue.denied:
        # "not a Kelvik": those that carry the name lose what they would have gained.
        values, kin, mistaken = _denied(values, parameters), _denied(kin, parameters), 0.0
    # Of a mistaken vehicle's name, and of a guess, the ratio is 1.
    keep = (1 - mistaken) * (1 - hedge)
    values, kin = keep * values + 1 - keep, keep * kin + 1 - keep
    sparse = _FEW * len(found.few) < tables.size and bool(values[-1] > 0)
    weights = weights_of(values, kin, 1.0, parameters, by_last=sparse)
    return Evidence(cue, weights, found.index, found.few if sparse else None)


def _denied(values: Vector, parameters: Parameters) -> Vector:
    return np.where(values > 1, np.maximum(parameters.floor, 1 / values), 1.0)


def _not_these(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    """ "Not this vehicle", said of records by code: only rarely of the right one. Of no other does it say anything."""
    few = np.flatnonzero(np.isin(tables.meta["codes"], cue.values))
    if not cue.denied or few.size == 0:
        return None
    index = np.ones(tables.size, dtype=np.uint8)
    index[few] = 0
    values = np.array([parameters.tables["record"]["denied_though_right"], 1.0])
    return Evidence(cue, weights_of(values, np.ones(2), 1.0, parameters, by_last=True), index, few)


def gather(cues: tuple[Cue, ...], tables: Tables, parameters: Parameters) -> tuple[Evidence, ...]:
    """Evidence of every cue of the vehicle asked about that ranks, in an order that does not depend on the text's."""
    own = sorted((cue for cue in cues if cue.vehicle == ASKED), key=_rank)
    unique: Mapping[object, Cue] = {(cue.key, cue.doubt): cue for cue in own}
    ordered = tuple(unique.values())
    made = ((cue, evidence(cue, tables, parameters)) for cue in ordered)
    alike = [cue for cue in ordered if cue.attribute in parameters.tables["same_words"]["attributes"]]
    return tuple(
        _shared(entry, parameters) if cue in alike and _overlaps(cue, alike) else entry
        for cue, entry in made
        if entry is not None
    )


def _overlaps(cue: Cue, others: Sequence[Cue]) -> bool:
    """Whether words of a cue were understood as another attribute as well."""
    return any(
        one.start < two.end and two.start < one.end
        for other in others
        if other.attribute != cue.attribute
        for one in cue.spans
        for two in other.spans
    )


def _shared(entry: Evidence, parameters: Parameters) -> Evidence:
    """Of two things understood of the same words ("petrol": its fuel, what drives it) each counts for a part: logs
    times 1 / (1 + (k - 1) r), k = 2."""
    return replace(entry, weights=_softened(entry.weights, parameters))


@lru_cache(maxsize=256)
def _softened(weights: Weights, parameters: Parameters) -> Weights:
    share = parameters.tables["same_words"]["share"]
    return weights_of(weights.values**share, weights.mixed**share, weights.novel, parameters)


def _rank(cue: Cue) -> tuple[str, tuple[str, ...], bool, Doubt, bool]:
    """Of one said twice, the one said from a known viewpoint comes last, and counts."""
    return (cue.attribute, cue.values, cue.denied, cue.doubt, bool(cue.viewpoint))
