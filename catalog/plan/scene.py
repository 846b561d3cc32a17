"""The scene as the crew knows it: every field yes, no or unknown.

Fields of the scene start as unknown; what the crew has done itself starts as no. data/scene.json
holds the fields with their words, and which carried coupler fits which port.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any

from catalog.domain.connectors import CONNECTOR

DATA = Path(__file__).parent / "data"


class Said(StrEnum):
    """Three-valued throughout: a field of a scene, a derived fact, a condition."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"

    @classmethod
    def of(cls, value: bool) -> "Said":
        return cls.YES if value else cls.NO


def either(values: Iterable[Said]) -> Said:
    """Yes if one is; no only if all are; otherwise unknown."""
    said = set(values)
    return Said.YES if Said.YES in said else Said.UNKNOWN if Said.UNKNOWN in said else Said.NO


def both(values: Iterable[Said]) -> Said:
    """No if one is; yes only if all are; otherwise unknown."""
    return opposite(either(opposite(value) for value in values))


def opposite(value: Said) -> Said:
    return {Said.YES: Said.NO, Said.NO: Said.YES}.get(value, Said.UNKNOWN)


@cache
def shipped_scene() -> Mapping[str, Any]:
    document: Mapping[str, Any] = json.loads((DATA / "scene.json").read_text("utf-8"))
    return document


FIELDS: tuple[str, ...] = tuple(entry["key"] for entry in shipped_scene()["fields"])
DONE: tuple[str, ...] = tuple(entry["key"] for entry in shipped_scene()["done"])
CALLERS: tuple[str, ...] = tuple(shipped_scene()["callers"])
_WORDS: Mapping[str, Mapping[str, str]] = {
    entry["key"]: entry for entry in (*shipped_scene()["fields"], *shipped_scene()["done"])
}
# A wider field -> those that cannot be so without it: deep water is water.
_WITHIN: Mapping[str, tuple[str, ...]] = {
    wider: tuple(key for key, words in _WORDS.items() if words.get("within") == wider)
    for wider in {words["within"] for words in _WORDS.values() if "within" in words}
}


@dataclass(frozen=True, slots=True)
class Scene:
    """values: only what is not as it starts. carried: connector standards on board, None where unknown.

    Raises ValueError for a field, a connector or a place of the caller that does not exist.
    """

    values: Mapping[str, Said] = field(default_factory=dict)
    carried: frozenset[str] | None = None
    caller: str = "unknown"

    def __post_init__(self) -> None:
        unknown = sorted(set(self.values) - set(_WORDS))
        if unknown:
            raise ValueError(f"no field of a scene: {', '.join(unknown)}; known: {', '.join(_WORDS)}")
        foreign = sorted((self.carried or frozenset()) - set(CONNECTOR.keys))
        if foreign:
            raise ValueError(f"no connector standard: {', '.join(foreign)}; known: {', '.join(CONNECTOR.keys)}")
        if self.caller not in CALLERS:
            raise ValueError(f"no place of a caller: {self.caller}; known: {', '.join(CALLERS)}")

    def said(self, key: str) -> Said:
        """The value of a field. Raises KeyError for one that does not exist."""
        if key not in _WORDS:
            raise KeyError(key)
        value = self.values.get(key, Said.NO if key in DONE else Said.UNKNOWN)
        if value is not Said.UNKNOWN:
            return value
        wider = _WORDS[key].get("within")
        if wider is not None and self.values.get(wider) is Said.NO:
            return Said.NO
        return Said.YES if any(self.values.get(narrow) is Said.YES for narrow in _WITHIN.get(key, ())) else value

    def having(self, **values: Said | str) -> "Scene":
        """The same scene with some fields set."""
        return replace(self, values={**self.values, **{key: Said(value) for key, value in values.items()}})


UNKNOWN = Scene()


def field_words(key: str, value: Said) -> str:
    """ "no fire or smoke": a field known to be yes or no, in words."""
    return _WORDS[key]["yes" if value is Said.YES else "no"]


def fitting(standard: str) -> frozenset[str]:
    """The couplers that go into a port of a standard."""
    return frozenset(shipped_scene()["fits"][standard])
