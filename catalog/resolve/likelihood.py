"""P(said | true) for one cue, once per signature.

Every function returns one probability per signature of the attribute, or NaN where the record
says nothing (neutral) and NO_PORT_MARK where there is nothing to plug in. Alternatives add up;
a set of true values is averaged. Nothing is floored or denied here.
"""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalog.domain.connectors import CONNECTOR
from catalog.domain.terms import Vocabulary
from catalog.domain.vin import matches
from catalog.domain.vocabulary import BY_KEY
from catalog.resolve.parameters import Parameters
from catalog.resolve.truth import NO_PORT, Signature

Vector = NDArray[np.float64]
NO_PORT_MARK = -1.0
_VOCABULARY = {"connector": CONNECTOR, "front_lamps": BY_KEY["lamps"], "rear_lamps": BY_KEY["lamps"]}
_EXTRA_TERMS = {"tailpipe": ("yes", "none"), "fuel": (*BY_KEY["fuel"].keys, "none")}


def vocabulary_of(attribute: str) -> Vocabulary | None:
    """The vocabulary a cue's values come from; None where they are numbers, names or places."""
    return _VOCABULARY.get(attribute) or BY_KEY.get(attribute)


def terms_of(attribute: str) -> tuple[str, ...]:
    """The values a categorical attribute may take."""
    if attribute in _EXTRA_TERMS:
        return _EXTRA_TERMS[attribute]
    found = vocabulary_of(attribute)
    return () if found is None else found.keys


def signature_likelihoods(
    attribute: str, values: Sequence[str], signatures: Sequence[Signature], parameters: Parameters
) -> Vector:
    """One number per signature; see the module's words on NaN and NO_PORT_MARK."""
    score = _SCORERS.get(attribute, _categorical)
    return np.array(
        [_one(score, attribute, values, signature, parameters) for signature in signatures], dtype=np.float64
    )


def _one(score: Any, attribute: str, values: Sequence[str], signature: Signature, parameters: Parameters) -> float:
    if signature is None:
        return float("nan")
    if signature == NO_PORT:
        return NO_PORT_MARK
    return float(score(attribute, values, signature, parameters))


def _categorical(attribute: str, values: Sequence[str], truths: list[str], parameters: Parameters) -> float:
    rows = _confusion(attribute, parameters)
    return sum(sum(rows[true].get(said, 0.0) for said in values) for true in truths) / len(truths)


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


def _doors(_: str, values: Sequence[str], truths: list[int], parameters: Parameters) -> float:
    table = parameters.tables["doors"]
    said = [int(value) for value in values]
    total = sum(_kernel(abs(value - true), table) for value in said for true in truths)
    return min(1.0, total / len(truths))


def _years(_: str, values: Sequence[str], truth: list[int | None], parameters: Parameters) -> float:
    """truth: [first, last or None while still built]. values: "2019" or "2018-2020"."""
    table = parameters.tables["years"]
    said = sorted({year for value in values for year in _span(value)})
    first, last = truth[0] or 0, truth[1]
    built = range(first, (last if last is not None else max(said[-1], first)) + 1)
    total = sum(_kernel(abs(year - made), table) for year in said for made in built)
    return min(1.0, total / len(built))


def _span(value: str) -> range:
    first, _, last = value.partition("-")
    return range(int(first), int(last or first) + 1)


def _kernel(distance: int, table: Mapping[str, Any]) -> float:
    kernel: list[float] = table["kernel"]
    return kernel[distance] if distance < len(kernel) else float(table["far"])


def _colour(_: str, values: Sequence[str], truths: list[str], parameters: Parameters) -> float:
    """Relative to any vehicle's colour: 1 would say nothing. Only restricted records come here."""
    table = parameters.tables["colour"]
    count = len(BY_KEY["colour"].terms)
    each = table["listed"] / len(truths)
    outside = (1 - table["listed"]) / (count - len(truths))
    near = {other for true in truths for other in table["near"].get(true, ())}
    chances = (each if value in truths else 1 / count if value in near else outside for value in values)
    ratio = sum(chances) * count / len(values)
    return float(min(max(ratio, table["least"]), table["most"]))


def _vin(_: str, values: Sequence[str], patterns: list[str], parameters: Parameters) -> float:
    table = parameters.tables["vin"]
    fits = any(matches(pattern, said) for said in values for pattern in patterns)
    return float(table["match"] if fits else table["mismatch"])


def _port_place(_: str, values: Sequence[str], truth: Mapping[str, Any], parameters: Parameters) -> float:
    """Side, end and level of one and the same port, averaged over the record's ports."""
    total = sum(
        _place(value.split("|"), place, truth["steering"], parameters) for value in values for place in truth["places"]
    )
    return float(min(1.0, total / len(truth["places"])))


def _place(said: list[str], place: list[str], steering: list[str], parameters: Parameters) -> float:
    side, end, level = said
    made = 1.0
    if side:
        made *= _side(side, place[0], steering, parameters.tables["side"])
    if end:
        made *= parameters.tables["end"][place[1]].get(end, 0.0)
    if level:
        made *= parameters.tables["level"][place[2]].get(level, 0.0)
    return made


def _side(said: str, true: str, steering: list[str], table: Mapping[str, Mapping[str, float]]) -> float:
    """ "driver" and "passenger" mean a side of each record, by the side its wheel is on."""
    if said not in ("driver", "passenger"):
        return table[true].get(said, 0.0)
    wheels = [wheel for wheel in steering if wheel in ("left", "right")]
    if not wheels:
        return 1 / 3
    other = {"left": "right", "right": "left"}
    meant = [wheel if said == "driver" else other[wheel] for wheel in wheels]
    return sum(table[true][side] for side in meant) / len(meant)


_SCORERS: Mapping[str, Any] = {
    "doors": _doors,
    "years": _years,
    "colour": _colour,
    "vin": _vin,
    "port_place": _port_place,
}
