"""What one process offers phones at the moment."""

import threading
from dataclasses import dataclass, field
from datetime import datetime

from catalog.compiled import Compiled
from catalog.device.bundle import FORMAT
from catalog.resolve.parameters import Parameters
from catalog.resolve.tables import Tables


@dataclass(frozen=True, slots=True)
class Offered:
    """A bundle that can be fetched. listing: name of the part that names the others. packed: bytes of all of them as
    they are sent, unpacked: as they are afterwards."""

    number: int
    hash: str
    published_at: datetime
    reason: str
    records: int
    listing: str
    packed: int
    unpacked: int
    engine: str
    format: int = FORMAT


# What a bundle is made from: the last is the site, as JSON.
Made = tuple[Compiled, Tables, Parameters, str]


@dataclass(eq=False)
class Bundles:
    """What one process offers phones. Thread-safe: while one thread makes a new bundle the others offer the old."""

    held: tuple[Made, Offered] | None = None
    making: threading.Lock = field(default_factory=threading.Lock, repr=False)
