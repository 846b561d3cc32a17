"""The words people write for ours: headings, sheets, terms, places, units. One table, `data/synonyms.json`."""

import json
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources
from typing import Any

from rapidfuzz import fuzz, process

from catalog.domain.folding import fold

_NEAR = 72  # per cent alike; below that a guess helps nobody


@cache
def table(name: str) -> Any:
    """One part of the table. Raises KeyError."""
    return _whole()[name]


@cache
def words(name: str) -> frozenset[str]:
    """One list of the table, as it is compared: small letters, ends trimmed."""
    return frozenset(_whole()[name])


def nearest(asked: str, known: Iterable[str], most: int = 1) -> tuple[str, ...]:
    """The known texts most like what was written, best first; empty where nothing is near.

    Compared folded. known: as they are to be shown.
    """
    shown: dict[str, str] = {}
    for text in known:
        shown.setdefault(fold(text), text)
    found = process.extract(fold(asked), list(shown), scorer=fuzz.ratio, limit=most, score_cutoff=_NEAR)
    return tuple(shown[text] for text, _, _ in found)


@cache
def _whole() -> Mapping[str, Any]:
    text = resources.files(__package__).joinpath("data/synonyms.json").read_text(encoding="utf-8")
    made: Mapping[str, Any] = json.loads(text)
    return made
