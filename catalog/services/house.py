"""What every service is handed: the settings, the store's engine, the shelf of compiled editions, a tally."""

from dataclasses import dataclass, field
from functools import lru_cache

from sqlalchemy import Engine

from catalog.compiled import Compiled, Shelf
from catalog.config import Settings
from catalog.resolve.field import Field
from catalog.resolve.parameters import shipped
from catalog.services.unread import Tally
from catalog.store.engine import open_engine


@dataclass(frozen=True, eq=False)
class House:
    """Opened once per process, after any fork (engines must not cross one). tally: of unread words, not written yet."""

    settings: Settings
    engine: Engine
    shelf: Shelf
    tally: Tally = field(default_factory=Tally)


def open_house(settings: Settings) -> House:
    """Open the house. Nothing is created or read until a service asks."""
    return House(settings, open_engine(settings.database_url), Shelf(settings.data / "compiled"))


@lru_cache(maxsize=4)
def field_of(compiled: Compiled, unlisted_rate: float) -> Field:
    """What descriptions are weighed against in one compiled edition."""
    return Field(compiled.tables, shipped(), unlisted_rate)
