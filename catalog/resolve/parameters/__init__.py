"""The numbers behind the evidence, as data with a version and a hash."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

# What a temperature rests on, by the parameters' origin.
BASIS = {
    "expert": "not yet checked against calls",
    "simulated": "fitted to simulated descriptions, not yet checked against calls",
    "field": "fitted to confirmed calls",
}


@dataclass(frozen=True, eq=False)
class Parameters:
    """One parameter set, compared by identity so that it can key caches.

    origin: "expert", "simulated" or "field". hash: SHA-256 of its sorted, compact JSON. basis: what its
    temperature rests on, in words, where that is known better than by its origin.
    """

    version: int
    origin: str
    temperature: float
    unlisted_bias: float
    cap: float
    floor: float
    kappa: float
    no_port: float
    tables: Mapping[str, Any]
    hash: str
    basis: str = ""

    @property
    def calibration(self) -> str:
        """What a reader is told about where the confidence comes from."""
        return f"{self.origin}: T = {self.temperature}, {self.basis or BASIS[self.origin]}"


def parameters_from(data: Mapping[str, Any]) -> Parameters:
    """Build a set from its JSON object."""
    text = json.dumps(data, sort_keys=True, separators=(",", ":"))
    plain = ("version", "origin", "temperature", "unlisted_bias", "cap", "floor", "kappa", "no_port")
    return Parameters(
        **{key: data[key] for key in plain},
        tables={key: value for key, value in data.items() if key not in plain},
        hash=hashlib.sha256(text.encode()).hexdigest(),
    )


@cache
def expert() -> Parameters:
    """The guesses that everything else starts from."""
    return parameters_from(_read("expert"))


@cache
def shipped() -> Parameters:
    """The set that ships with the product: the expert's, with what was fitted to simulated descriptions.

    A fit holds for the numbers it was made with, named by their hash; beside others the expert's stand alone.
    """
    fitted, plain = shipped_fit(), expert()
    if fitted["expert"] != plain.hash:
        return plain
    changed = {key: fitted[key] for key in ("version", "origin", "temperature", "unlisted_bias", "comment")}
    return parameters_from({**_read("expert"), **changed})


def shipped_fit() -> Mapping[str, Any]:
    """What was fitted to simulated descriptions, with what it was fitted beside and what it is worth."""
    return _read("simulated")


def _read(name: str) -> Mapping[str, Any]:
    made: Mapping[str, Any] = json.loads((Path(__file__).parent / f"{name}.json").read_text(encoding="utf-8"))
    return made
