"""Whether a sign-in still holds, as pages that only show something need to know it: asked at most every few seconds.

What writes asks the database itself (`signing.page_actor`). While the database is away, a signed cookie is believed.
"""

import threading
import time
from collections import OrderedDict
from collections.abc import Callable

from catalog.services.acting import Actor

SECONDS = 5.0
_MOST = 1000


class Standing:
    """Answers of the last seconds, by sign-in. Thread-safe. clock: seconds, monotonic."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._known: OrderedDict[str, tuple[float, Actor | None]] = OrderedDict()
        self._lock = threading.Lock()

    def of(self, id_: str, ask: Callable[[], Actor | None]) -> Actor | None:
        """Who a sign-in is good for, None where it has ended. ask: the database; where it raises, nothing is kept."""
        with self._lock:
            there = self._known.get(id_)
        if there is not None and self._clock() - there[0] < SECONDS:
            return there[1]
        found = ask()
        with self._lock:
            self._known[id_] = (self._clock(), found)
            self._known.move_to_end(id_)
            while len(self._known) > _MOST:
                self._known.popitem(last=False)
        return found

    def forget(self, id_: str) -> None:
        """Ask again next time."""
        with self._lock:
            self._known.pop(id_, None)
