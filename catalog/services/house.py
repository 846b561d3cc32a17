"""What every service is handed: the settings, the store's engine, the shelf of compiled editions, what is kept."""

from dataclasses import dataclass, field
from functools import lru_cache

from sqlalchemy import Engine

from catalog.compiled import Compiled, Shelf
from catalog.config import Settings
from catalog.resolve.field import Field
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables, with_popularity
from catalog.services.calibration_kept import Calibrations
from catalog.services.counting import Counts
from catalog.services.pace import Pace
from catalog.services.passed import Passed
from catalog.services.phone_bundles import Bundles
from catalog.services.popularity import UNKNOWN, Popularity, read_popularity
from catalog.services.standing import Standing
from catalog.services.unread import Tally
from catalog.store.engine import open_engine


@dataclass(frozen=True, eq=False)
class House:
    """Opened once per process, after any fork (engines must not cross one).

    popularity: how common vehicles are on this site. calibrations: what this host knows of them. tally: of unread
    words, not written yet. pace: of outcomes sent. standing: of sign-ins seen lately.
    counts: of records opened and editions fetched, not written yet. passed: documents that passed the gate.
    bundles: what is offered to phones.
    """

    settings: Settings
    engine: Engine
    shelf: Shelf
    calibrations: Calibrations
    popularity: Popularity = UNKNOWN
    tally: Tally = field(default_factory=Tally)
    pace: Pace = field(default_factory=Pace)
    standing: Standing = field(default_factory=Standing)
    counts: Counts = field(default_factory=Counts)
    passed: Passed = field(default_factory=Passed)
    bundles: Bundles = field(default_factory=Bundles)


def open_house(settings: Settings) -> House:
    """Open the house. Nothing is created, and only the popularity file is read, until a service asks."""
    calibrations = Calibrations(settings.data / "compiled" / "calibration")
    popularity = read_popularity(settings.popularity)
    shelf = Shelf(settings.data / "compiled")
    return House(settings, open_engine(settings.database_url), shelf, calibrations, popularity)


def field_of(house: House, compiled: Compiled) -> Field:
    """What descriptions are weighed against in one compiled edition, with the calibration that counts for it."""
    parameters = house.calibrations.known(compiled).parameters
    return _field(compiled, house.settings.unlisted_rate, parameters, house.popularity)


@lru_cache(maxsize=4)
def _field(compiled: Compiled, unlisted_rate: float, parameters: Parameters, popularity: Popularity) -> Field:
    return Field(_met(compiled, popularity), parameters, unlisted_rate)


@lru_cache(maxsize=2)
def _met(compiled: Compiled, popularity: Popularity) -> Tables:
    """The edition's tables as this site meets its vehicles: the same object whatever the calibration, for caches."""
    return with_popularity(compiled.tables, popularity.shares) if popularity.shares else compiled.tables
