"""The simulator's own data."""

import json
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any


@cache
def law_table() -> Mapping[str, Any]:
    """How often what is said, and how it goes wrong."""
    return _read("law")


@cache
def sayings() -> Mapping[str, Any]:
    """What people say."""
    return _read("sayings")


def _read(name: str) -> Mapping[str, Any]:
    made: Mapping[str, Any] = json.loads(
        resources.files(__package__).joinpath(f"data/{name}.json").read_text(encoding="utf-8")
    )
    return made
