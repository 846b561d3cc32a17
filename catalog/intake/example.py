"""The filled example of a template: one invented vehicle that shows every way a cell may be filled."""

import json
from functools import cache
from importlib import resources
from typing import Any

Document = dict[str, Any]


@cache
def _held() -> Document:
    text = resources.files(__package__).joinpath("data/example.json").read_text(encoding="utf-8")
    made: Document = json.loads(text)
    return made


def example_record() -> Document:
    """A valid record document."""
    return dict(_held()["record"])


def example_source() -> Document:
    """The source it cites."""
    return dict(_held()["source"])
