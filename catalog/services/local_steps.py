"""This site's own steps and wording, from a file beside the catalogue.

A file that cannot be used never takes steps away: the program's own are given, and the answer says why.
"""

import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from catalog.plan.site import with_site
from catalog.plan.table import Table, shipped_table
from catalog.services.house import House

Document = Mapping[str, Any]


def table_of(house: House) -> tuple[Table, str]:
    """The rule table of this site, and what is wrong with its file ("" where nothing is)."""
    table, _, notice = _steps(house)
    return table, notice


def added_by(house: House) -> tuple[Document | None, str]:
    """What this site adds, as its file says it, None where it has none or it cannot be used; and what is wrong with it.

    The file is read once, however often this is asked.
    """
    _, document, notice = _steps(house)
    return document, notice


def _steps(house: House) -> tuple[Table, Document | None, str]:
    path = house.settings.local_steps
    if path is None:
        return shipped_table(), None, ""
    try:
        return _read(path, path.stat().st_mtime_ns)
    except OSError as error:
        return shipped_table(), None, _left_out(path, error.strerror or "it cannot be read")


@lru_cache(maxsize=4)
def _read(path: Path, changed: int) -> tuple[Table, Document | None, str]:
    """changed: when the file was written, so that a new one is read."""
    try:
        document = json.loads(path.read_text("utf-8"))
        return with_site(shipped_table(), document), document, ""
    except (ValueError, TypeError, AttributeError, KeyError) as error:
        return shipped_table(), None, _left_out(path, str(error))


def _left_out(path: Path, why: str) -> str:
    return f"Local steps are left out ({path.name}): {why}"
