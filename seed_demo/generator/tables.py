"""The generator's figures and wording, read once."""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

Table = Mapping[str, Any]


@cache
def table(name: str) -> Table:
    """One of data/*.json: "shape", "bodies", "habits" or "words"."""
    text = (files("seed_demo.generator") / "data" / f"{name}.json").read_text(encoding="utf-8")
    found: Table = json.loads(text)
    return found
