"""Brings a guide update in and kills itself at a named point."""

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

from sqlalchemy import event

from catalog.config import Settings
from catalog.services import importing, proposing
from catalog.services.house import open_house
from catalog.services.importing import BroughtFile
from tests.integration.dying import after, before, die
from tests.integration.review_samples import STEWARD

# In the order in which they come. Up to "committing" nothing is stored; from then on all of it is.
POINTS: dict[str, Callable[[Any], Any]] = {
    "read": lambda engine: after(importing, "read_file"),
    "checking": lambda engine: None,
    "checked": lambda engine: before(importing, "propose_once"),
    "in turn": lambda engine: after(proposing, "take_turn"),
    "added": lambda engine: after(proposing, "add_update"),
    "noted": lambda engine: after(proposing, "note"),
    "committing": lambda engine: event.listen(engine, "commit", die),
    "committed": lambda engine: after(importing, "propose_once"),
}
# Where the database is in the middle of something; elsewhere it is all one which it is.
IN_DATABASE = ("in turn", "added", "committing", "committed")
STORED = frozenset({"committed"})


def dying(records: Iterable[Any]) -> Iterator[Any]:
    """The first record, and no more."""
    yield next(iter(records))
    die()


def bring(data: str, url: str, file: str, point: str) -> None:
    house = open_house(Settings(Path(data), url))
    POINTS[point](house.engine)
    path = Path(file)
    brought = BroughtFile(path.name, path.read_bytes())
    importing.propose_update(house, STEWARD, brought, dying if point == "checking" else iter)
