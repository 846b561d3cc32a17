"""What administrators ask over the API."""

from collections.abc import Mapping
from typing import Any

from catalog.api.reply import PRIVATE, Reply
from catalog.domain.chain import ZERO
from catalog.domain.trail import TrailEntry
from catalog.services.acting import Actor
from catalog.services.compiling import edition_view
from catalog.services.house import House
from catalog.services.trail import NOBODY, TrailAsked, TrailPart, document, read_trail
from schemas.people import TrailAnswer


def trail(house: House, given: Mapping[str, Any]) -> Reply:
    """Who did what, the newest first.

    Sign-ins, refused ones too, changes of accounts and tokens, and everything that changed the catalogue or was taken
    out of it. Each entry's hash covers the entry before it; whoever keeps one elsewhere can tell whether the trail was
    rewritten or cut short.
    """
    by: Actor = given["actor"]
    asked = TrailAsked(given["person"], given["action"], given["day"])
    return _reply(house, read_trail(house, by, asked, given["page"]))


def trail_shown(house: House, given: Mapping[str, Any]) -> Reply:
    """An invented entry: what people did is nobody's example."""
    entry = TrailEntry(1, ZERO, 1_764_000_000_000_000, NOBODY, "terminal", "account add", "a.dorn", {"first": True})
    return _reply(house, TrailPart((entry,), 1, (), entry.hash))


def _reply(house: House, part: TrailPart) -> Reply:
    entries = [document(entry) | {"hash": entry.hash} for entry in part.entries]
    view = TrailAnswer().dump({"total": part.total, "head": part.head, "entries": entries})
    return Reply(view, edition_view(house.shelf.current()).number, PRIVATE)
