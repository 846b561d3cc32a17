"""Calibrations and their checks as data."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from catalog.resolve.calibration.keys import Key
from catalog.resolve.calibration.words import WordRate

EXPERT, SIMULATED, FIELD = STATES = ("expert", "simulated", "field")


@dataclass(frozen=True, slots=True)
class Calibration:
    """A fit. state: what it was fitted to. n: descriptions. nll: held-out mean surprise at the truth in nats, with
    its standard error. words: hit rates of the probability words on the same. made_on: UTC date."""

    key: Key
    state: str
    temperature: float
    bias: float
    n: int
    nll: float
    nll_se: float
    words: tuple[WordRate, ...]
    made_on: str


@dataclass(frozen=True, slots=True)
class Check:
    """A calibration held against one edition.

    key: of the program that checked, and of the labels. state, temperature, bias: the calibration's. nll: its mean
    surprise; nll_instead: that of the expert's numbers, which would take its place. worse: the mean of their
    paired differences, above 0 where the calibration is worse; each with its standard error. carried: whether it
    holds on. words, firsts: of the numbers that then count; firsts holds each first answer's probability and
    whether it was right.
    """

    edition: int
    edition_hash: str
    key: Key
    state: str
    temperature: float
    bias: float
    n: int
    nll: float
    nll_se: float
    nll_instead: float
    worse: float
    worse_se: float
    carried: bool
    words: tuple[WordRate, ...]
    firsts: tuple[tuple[float, bool], ...]
    made_on: str


def calibration_data(calibration: Calibration) -> dict[str, Any]:
    """As JSON holds it."""
    return asdict(calibration)


def calibration_from(data: Mapping[str, Any]) -> Calibration:
    """From JSON. Raises KeyError or TypeError for what is none."""
    return Calibration(**{**data, "key": Key(**data["key"]), "words": _words(data)})


def check_data(check: Check) -> dict[str, Any]:
    """As JSON holds it."""
    return asdict(check)


def check_from(data: Mapping[str, Any]) -> Check:
    """From JSON. Raises KeyError or TypeError for what is none."""
    firsts = tuple((float(p), bool(right)) for p, right in data["firsts"])
    return Check(**{**data, "key": Key(**data["key"]), "words": _words(data), "firsts": firsts})


def _words(data: Mapping[str, Any]) -> tuple[WordRate, ...]:
    return tuple(WordRate(**word) for word in data["words"])
