"""What is counted while reading: which device had which edition, how often a record was opened.

Requests only add to memory; a thread writes it every few seconds, so that no read waits for a write. Nothing says who
opened a record; a device is known by a random id it drew itself.
"""

import re
import threading
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from catalog.errors import ChockbookError
from catalog.services.clock import DAY, now_us
from catalog.store.engine import write
from catalog.store.shown import add_consulted, add_fetches

if TYPE_CHECKING:
    from catalog.services.house import House

DEVICE = re.compile(r"[A-Za-z0-9_-]{16,64}", re.ASCII)
_MOST_WAITING = 20_000  # entries waiting to be written; more are not counted


@dataclass(eq=False)
class Counts:
    """What one process has counted and not written yet."""

    fetched: set[tuple[str, int]] = field(default_factory=set)
    opened: Counter[str] = field(default_factory=Counter)
    _lock: threading.Lock = field(default_factory=threading.Lock, repr=False)

    def note_fetch(self, device: str, edition: int) -> None:
        """A device has an edition. An id that is no random one is left out."""
        with self._lock:
            if edition >= 1 and DEVICE.fullmatch(device) and len(self.fetched) < _MOST_WAITING:
                self.fetched.add((device, edition))

    def note_opened(self, code: str) -> None:
        """Somebody opened a record."""
        with self._lock:
            if code in self.opened or len(self.opened) < _MOST_WAITING:
                self.opened[code] += 1

    def take(self) -> tuple[set[tuple[str, int]], Counter[str]]:
        """Everything that waits, which then waits no more."""
        with self._lock:
            taken = self.fetched, self.opened
            self.fetched, self.opened = set(), Counter()
        return taken

    def put_back(self, fetched: set[tuple[str, int]], opened: Counter[str]) -> None:
        """What could not be written."""
        with self._lock:
            self.fetched |= fetched
            self.opened.update(opened)


def flush_counts(house: "House") -> int:
    """Write what waits; how many entries that were. Raises Unavailable, having put all back."""
    fetched, opened = house.counts.take()
    if not fetched and not opened:
        return 0
    try:
        with write(house.engine) as conn:
            add_fetches(conn, sorted(fetched), now_us() // DAY)
            add_consulted(conn, opened)
    except (ChockbookError, OSError):
        house.counts.put_back(fetched, opened)
        raise
    return len(fetched) + len(opened)
