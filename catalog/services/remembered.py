"""What is worked out of things that never change, kept for whoever asks next."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class Remembered(Generic[T]):
    """The last few results by key; safe between threads, two of which may work out the same at once."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[Hashable, T] = OrderedDict()
        self._lock = Lock()

    def of(self, key: Hashable, make: Callable[[], T]) -> T:
        """What was made under the key, else what `make` gives now; where it raises, nothing is kept."""
        with self._lock:
            if key in self._kept:
                return self._kept[key]
        made = make()
        self._keep(key, made)
        return made

    def renewed(self, key: Hashable, make: Callable[[T | None], T]) -> T:
        """What `make` gives of what is kept under the key, None where nothing is; kept in its place."""
        with self._lock:
            known = self._kept.get(key)
        made = make(known)
        if made is not known:
            self._keep(key, made)
        return made

    def _keep(self, key: Hashable, made: T) -> None:
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
