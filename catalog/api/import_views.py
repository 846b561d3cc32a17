"""Views of bringing in guide updates. Docstrings are what the docs page says."""

from collections.abc import Mapping
from typing import Any

from catalog.api.reply import PRIVATE, Reply
from catalog.domain import cautions
from catalog.services.house import House
from catalog.services.importing import BroughtFile, answered, check_update, propose_update

Arguments = Mapping[str, Any]


def import_update(house: House, given: Arguments) -> Reply:
    """Hold a guide update against what is listed, and send it to review.

    The body is the file: a workbook, CSV, JSON, JSON Lines, or a zip of CSV and JSON files; `name` says what it is
    called, and its ending what it holds. Nothing is published by it. A record that something blocks is left out whole
    and said so; everything else becomes one update to be reviewed. With `propose` false it is only checked: the same
    counts and findings, nothing stored. The same file against the same edition again is the same update.
    """
    disputed = frozenset(filter(None, (part.strip() for part in given["dispute"].split(","))))
    file = BroughtFile(given["name"], given["file"], given["encoding"], disputed)
    checked = propose_update(house, given["actor"], file) if given["propose"] else check_update(house, file)
    told = cautions.FULL if not house.settings.demo else (cautions.DEMO_MARK, *cautions.FULL)
    return Reply(answered(checked, told), checked.edition, PRIVATE)
