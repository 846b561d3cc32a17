"""The words of a brief: data/brief.json, read once."""

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

from catalog.plan.scene import DATA


@cache
def brief_words() -> Mapping[str, Any]:
    document: Mapping[str, Any] = json.loads((DATA / "brief.json").read_text("utf-8"))
    return document
