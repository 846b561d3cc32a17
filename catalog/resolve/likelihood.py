"""P(said | true) for one cue, once per signature.

A scorer is made once from an attribute's signatures and answers with one probability per
signature, NaN where the record says nothing (neutral), NO_PORT_MARK where there is nothing to
plug in. Alternatives add up; a set of true values is averaged. Nothing is floored or denied here.
"""

from collections.abc import Mapping, Sequence
from functools import cache, partial
from typing import Any

import numpy as np

from catalog.domain.attributes import terms_of, vocabulary_of
from catalog.domain.vocabulary import BY_KEY
from catalog.resolve.likelihood_numbers import DoorScorer, VinScorer, YearScorer
from catalog.resolve.likelihood_places import PlaceScorer
from catalog.resolve.parameters import Parameters
from catalog.resolve.scorer import Scorer, Vector
from catalog.resolve.truth import NO_PORT, Signature

NO_PORT_MARK = -1.0

__all__ = ["NO_PORT_MARK", "Vector", "scorer", "signature_likelihoods", "terms_of", "vocabulary_of"]


def signature_likelihoods(
    attribute: str, values: Sequence[str], signatures: Sequence[Signature], parameters: Parameters
) -> Vector:
    """One number per signature; see the module's words on NaN and NO_PORT_MARK."""
    return scorer(attribute, signatures, parameters).score(values)


def scorer(
    attribute: str, signatures: Sequence[Signature], parameters: Parameters, *, told: bool = False
) -> "MarkedScorer":
    """What answers for these signatures; worth keeping for as long as they live.

    told: whether sides were said from a known viewpoint.
    """
    kind = _SCORERS.get(attribute, _TermScorer)
    if told and kind is PlaceScorer:
        kind = partial(PlaceScorer, told=True)
    return MarkedScorer(kind, attribute, signatures, parameters)


class MarkedScorer:
    """Scores the signatures that state something and marks the others."""

    def __init__(self, kind: Any, attribute: str, signatures: Sequence[Signature], parameters: Parameters) -> None:
        self._marks = np.array([_mark(signature) for signature in signatures], dtype=np.float64)
        self._stated = np.flatnonzero(self._marks == 0)
        truths = [signatures[place] for place in self._stated.tolist()]
        self._inner: Scorer | None = kind(attribute, truths, parameters) if truths else None

    def score(self, values: Sequence[str]) -> Vector:
        made = self._marks.copy()
        if self._inner is not None:
            made[self._stated] = self._inner.score(values)
        return made

    def mirrored(self, values: Sequence[str]) -> Vector:
        """Of a place, the part of the score that is of witnesses who swap sides; 0 where nothing is stated."""
        made = np.zeros(len(self._marks))
        if isinstance(self._inner, PlaceScorer):
            made[self._stated] = self._inner.mirrored(values)
        return made


def _mark(signature: Signature) -> float:
    if signature is None:
        return float("nan")
    return NO_PORT_MARK if signature == NO_PORT else 0.0


class _TermScorer:
    """Words of a closed vocabulary: P(said | true) by the confusion table, truths averaged."""

    def __init__(self, attribute: str, truths: Sequence[list[str]], parameters: Parameters) -> None:
        rows = _confusion(attribute, parameters)
        terms = terms_of(attribute)
        self._place = {term: place for place, term in enumerate(terms)}
        self._chance = np.array(
            [[sum(rows[true].get(said, 0.0) for true in truth) / len(truth) for said in terms] for truth in truths]
        )

    def score(self, values: Sequence[str]) -> Vector:
        said = [self._place[value] for value in values if value in self._place]
        return np.asarray(self._chance[:, said].sum(axis=1), dtype=np.float64)


@cache
def _confusion(attribute: str, parameters: Parameters) -> Mapping[str, Mapping[str, float]]:
    """Rows P(said | true): the diagonal, then named confusions by weight, a quarter for every other."""
    table = parameters.tables["categorical"][attribute]
    terms = terms_of(attribute)
    rows: dict[str, dict[str, float]] = {}
    for true in terms:
        weights = {said: 0.25 for said in terms if said != true}
        weights |= table["confusions"].get(true, {})
        total = sum(weights.values())
        rest = 1 - table["diagonal"]
        rows[true] = {said: rest * weight / total for said, weight in weights.items()}
        rows[true][true] = table["diagonal"]
    return rows


class _ColourScorer:
    """Relative to any vehicle's colour: 1 would say nothing. Only restricted records come here."""

    def __init__(self, _: str, truths: Sequence[list[str]], parameters: Parameters) -> None:
        self._truths = truths
        self._table = parameters.tables["colour"]

    def score(self, values: Sequence[str]) -> Vector:
        return np.array([self._one(values, truth) for truth in self._truths])

    def _one(self, values: Sequence[str], truth: list[str]) -> float:
        table, count = self._table, len(BY_KEY["colour"].terms)
        each = table["listed"] / len(truth)
        outside = (1 - table["listed"]) / (count - len(truth))
        near = {other for true in truth for other in table["near"].get(true, ())}
        chances = (each if value in truth else 1 / count if value in near else outside for value in values)
        ratio = sum(chances) * count / len(values)
        return float(min(max(ratio, table["least"]), table["most"]))


_SCORERS: Mapping[str, Any] = {
    "doors": DoorScorer,
    "years": YearScorer,
    "colour": _ColourScorer,
    "vin": VinScorer,
    "port_place": PlaceScorer,
}
