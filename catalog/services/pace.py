"""A limit to how often this process does something that anyone may ask for."""

import threading
import time
from collections import deque
from collections.abc import Callable

from catalog.errors import Unavailable

MOST, SECONDS = 60, 60.0


class Pace:
    """At most `most` in any `seconds`. Thread-safe. clock: seconds, monotonic."""

    def __init__(self, most: int = MOST, seconds: float = SECONDS, clock: Callable[[], float] = time.monotonic) -> None:
        self._most, self._seconds, self._clock = most, seconds, clock
        self._times: deque[float] = deque()
        self._lock = threading.Lock()

    def step(self, what: str) -> None:
        """Count one. what: in words, for the refusal. Raises Unavailable when there were too many."""
        with self._lock:
            now = self._clock()
            while self._times and now - self._times[0] >= self._seconds:
                self._times.popleft()
            if len(self._times) >= self._most:
                raise Unavailable(
                    f"More than {self._most} {what} in {self._seconds:g} seconds.", cure="Try again in a minute."
                )
            self._times.append(now)
