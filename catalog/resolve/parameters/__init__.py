"""The numbers behind the evidence, as data with a version and a hash."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any


@dataclass(frozen=True, eq=False)
class Parameters:
    """One parameter set, compared by identity so that it can key caches.

    origin: "expert", "simulated" or "field". hash: SHA-256 of its sorted, compact JSON.
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

    @property
    def calibration(self) -> str:
        """What a reader is told about where the confidence comes from."""
        if self.origin == "expert":
            return f"expert: T = {self.temperature}, not yet checked against calls"
        if self.origin == "simulated":
            return f"simulated: T = {self.temperature}, fitted to simulated descriptions, not yet checked against calls"
        return f"{self.origin}: T = {self.temperature}"


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
    fitted, plain = _read("simulated"), expert()
    if fitted["expert"] != plain.hash:
        return plain
    changed = {key: fitted[key] for key in ("version", "origin", "temperature", "unlisted_bias", "comment")}
    return parameters_from({**_read("expert"), **changed})


def _read(name: str) -> Mapping[str, Any]:
    made: Mapping[str, Any] = json.loads(
        resources.files(__package__).joinpath(f"{name}.json").read_text(encoding="utf-8")
    )
    return made
