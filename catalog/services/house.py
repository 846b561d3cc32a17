"""What every service is handed: the settings, the store's engine, the shelf of compiled editions, what is kept."""

from dataclasses import dataclass, field
from functools import lru_cache

from sqlalchemy import Engine

from catalog.compiled import Compiled, Shelf
from catalog.config import Settings
from catalog.resolve.field import Field
from catalog.resolve.parameters import Parameters
from catalog.services.calibration_kept import Calibrations
from catalog.services.pace import Pace
from catalog.services.unread import Tally
from catalog.store.engine import open_engine


@dataclass(frozen=True, eq=False)
class House:
    """Opened once per process, after any fork (engines must not cross one).

    calibrations: what this host knows of them. tally: of unread words, not written yet. pace: of outcomes sent.
    """

    settings: Settings
    engine: Engine
    shelf: Shelf
    calibrations: Calibrations
    tally: Tally = field(default_factory=Tally)
    pace: Pace = field(default_factory=Pace)


def open_house(settings: Settings) -> House:
    """Open the house. Nothing is created or read until a service asks."""
    calibrations = Calibrations(settings.data / "compiled" / "calibration")
    return House(settings, open_engine(settings.database_url), Shelf(settings.data / "compiled"), calibrations)


def field_of(house: House, compiled: Compiled) -> Field:
    """What descriptions are weighed against in one compiled edition, with the calibration that counts for it."""
    return _field(compiled, house.settings.unlisted_rate, house.calibrations.known(compiled).parameters)


@lru_cache(maxsize=4)
def _field(compiled: Compiled, unlisted_rate: float, parameters: Parameters) -> Field:
    return Field(compiled.tables, parameters, unlisted_rate)
