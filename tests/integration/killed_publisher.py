"""Publishes an update and kills itself at a named point."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from sqlalchemy import event

from catalog.compiled import building
from catalog.config import Settings
from catalog.services import gates, publishing
from catalog.services.house import open_house
from catalog.store import publish as store_publish
from tests.integration.dying import after, before, die
from tests.integration.review_samples import APPROVER

# In the order in which they come. Up to "committing" nothing is published; from then on all of it is.
POINTS: dict[str, Callable[[Any], Any]] = {
    "checked": lambda engine: before(publishing, "take_turn"),
    "drafted": lambda engine: before(store_publish, "put_edition"),
    "listed": lambda engine: after(store_publish, "put_edition"),
    "update told": lambda engine: after(publishing, "_tell_update"),
    "noted": lambda engine: after(publishing, "note"),
    "committing": lambda engine: event.listen(engine, "commit", die),
    "committed": lambda engine: before(publishing, "bring_up"),
    "compiling": lambda engine: after(building, "_write"),
    "put in place": lambda engine: after(building, "_put"),
    "compiled": lambda engine: after(publishing, "compile_latest"),
}
# Where the database is in the middle of something; elsewhere it is all one which it is.
IN_DATABASE = ("drafted", "listed", "noted", "committing", "committed")
PUBLISHED = frozenset({"committed", "compiling", "put in place", "compiled"})


def publish(data: str, url: str, number: str, point: str) -> None:
    house = open_house(Settings(Path(data), url))
    gates.DESCRIPTIONS = 5
    publishing.check_publication(house, APPROVER, [int(number)])
    POINTS[point](house.engine)
    publishing.publish_edition(house, APPROVER, [number], "Killed on the way.")
