"""One vector of likelihood ratios over all records per cue.

A ratio is P(cue | record) / P(cue | average record): 1 says nothing. Unknown attributes are 1
(silence of a guide is neutral). Denial takes 1 - M, a hedge moves M towards the marginal, and
M never falls below the floor, so no single cue is a veto.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.resolve.cue import HEDGE_WEIGHT, RANKING, Cue
from catalog.resolve.likelihood import NO_PORT_MARK, Vector, signature_likelihoods, terms_of
from catalog.resolve.names import name_evidence
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables


@dataclass(frozen=True, slots=True)
class Evidence:
    """ratio: one per record. novel: how much likelier the cue is from an unlisted vehicle (1 = no news).

    mixed: the ratio an unlisted relative of each record would get (RESOLVER-style mutation).
    """

    cue: Cue
    ratio: Vector
    mixed: Vector
    novel: float = 1.0


def evidence(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    """The evidence of one cue; None when it cannot rank (shown only, or no record restricts it)."""
    if cue.attribute not in RANKING or tables.size == 0:
        return None
    if cue.attribute == "name":
        return _named(cue, tables, parameters)
    if cue.attribute == "vin":
        return _numbered(cue, tables, parameters)
    return _categorical(cue, tables, parameters)


def _categorical(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence | None:
    signatures = tables.meta["signatures"][cue.attribute]
    raw = signature_likelihoods(cue.attribute, cue.values, signatures, parameters)
    if np.isnan(raw).all():
        return None
    index = tables.arrays[f"sig_{cue.attribute}"]
    if cue.attribute == "colour":
        ratio, strange = _colour_ratio(raw, cue), 1.0
        if (ratio == 1).all():
            return None
    else:
        weights = _shares(index, tables.arrays["prior"], len(signatures))
        ratio, strange = _ratios(raw, weights, cue, parameters)
    mixed = (1 - parameters.kappa) * ratio + parameters.kappa * strange
    return Evidence(cue, ratio[index], mixed[index])


def _shares(index: NDArray[Any], prior: Vector, count: int) -> Vector:
    """Prior mass of each signature."""
    return np.asarray(np.bincount(index, weights=prior, minlength=count), dtype=np.float64)


def _ratios(raw: Vector, weights: Vector, cue: Cue, parameters: Parameters) -> tuple[Vector, float]:
    """The ratio of each signature, and of a mutated attribute of an unlisted vehicle.

    Mutations are drawn half from this catalogue and half evenly from the whole vocabulary, so
    that what no record here has (a motorcycle among cars) points outside the catalogue.
    """
    known = ~np.isnan(raw) & (raw != NO_PORT_MARK)
    said = np.where(known, raw, 0.0)
    even = len(cue.values) / max(1, len(terms_of(cue.attribute)))
    if cue.denied:
        said, even = 1 - said, 1 - even
    said = np.clip(said, parameters.floor, 1.0)
    total = float(weights[known].sum())
    marginal = float((weights * said)[known].sum() / total) if total > 0 else 1.0
    hedge = HEDGE_WEIGHT[cue.doubt]
    ratio = ((1 - hedge) * said + hedge * marginal) / marginal
    ratio[np.isnan(raw)] = 1.0
    plugless = parameters.no_port if not cue.denied else 1.0
    ratio[raw == NO_PORT_MARK] = (1 - hedge) * plugless + hedge
    strange = 0.5 + 0.5 * even / marginal if terms_of(cue.attribute) else 1.0
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
    signatures = tables.meta["signatures"]["vin"]
    fits = signature_likelihoods("vin", cue.values, signatures, parameters)
    known = ~np.isnan(fits)
    if cue.denied or not known.any():
        return None
    matched = bool((fits[known] == table["match"]).any())
    stranger = table["novel_match"] if matched else 1 - table["novel_match"]
    said = np.where(known, fits if matched else 1 - table["match"], stranger)
    index = tables.arrays["sig_vin"]
    marginal = float((_shares(index, tables.arrays["prior"], len(signatures)) * said).sum())
    hedge = HEDGE_WEIGHT[cue.doubt]
    ratio = (1 - hedge) * said / marginal + hedge
    novel = (1 - hedge) * stranger / marginal + hedge
    return Evidence(cue, ratio[index], np.ones(tables.size), float(novel))


def _named(cue: Cue, tables: Tables, parameters: Parameters) -> Evidence:
    found = name_evidence(cue.values, tables, parameters)
    ratio = found.ratio
    if cue.denied:
        # "not a Kelvik": those that carry the name lose what they would have gained.
        ratio = np.where(ratio > 1, np.maximum(parameters.floor, 1 / ratio), 1.0)
    hedge = HEDGE_WEIGHT[cue.doubt]
    ratio = (1 - hedge) * ratio + hedge
    novel = 1.0 if cue.denied else (1 - hedge) * found.novel + hedge
    return Evidence(cue, np.asarray(ratio, dtype=np.float64), np.ones(tables.size), novel)


def gather(cues: tuple[Cue, ...], tables: Tables, parameters: Parameters) -> tuple[Evidence, ...]:
    """Evidence of every cue that ranks, in an order that does not depend on the text's."""
    unique: Mapping[object, Cue] = {(cue.key, cue.doubt): cue for cue in cues}
    ordered = sorted(unique.values(), key=lambda cue: (cue.attribute, cue.values, cue.denied, cue.doubt))
    made = (evidence(cue, tables, parameters) for cue in ordered)
    return tuple(entry for entry in made if entry is not None)
