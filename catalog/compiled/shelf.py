"""The edition to answer from: opened when first asked for, exchanged when CURRENT changes."""

import logging
import os
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from catalog.compiled.edition import Compiled, open_edition
from catalog.compiled.layout import CURE, CURRENT, EDITIONS, NAME, damaged
from catalog.compiled.manifest import FileMark
from catalog.errors import ChockbookError, Unavailable

LOOK_EVERY = 1.0  # seconds
TRY_AGAIN_AFTER = 30.0  # seconds until a refused edition is looked at again
_log = logging.getLogger(__name__)

_Mark = tuple[int, int, int]


class _Refusal(NamedTuple):
    mark: _Mark
    error: ChockbookError
    at: float


class Shelf:
    """Hands out the current edition. A request takes one reference and keeps it to its end.

    clock: seconds, monotonic. Thread-safe: while one thread opens a new edition the others go
    on with the old one. Nothing is opened or read until the first `current`.
    """

    def __init__(self, root: Path, *, clock: Callable[[], float] = time.monotonic) -> None:
        self.root = root
        self._clock = clock
        self._opening = threading.Lock()
        self._held: Compiled | None = None
        self._mark: _Mark | None = None
        self._checked: dict[FileMark, str] = {}
        self._refusal: _Refusal | None = None
        self._looked = -float("inf")

    def look(self) -> None:
        """Have the next `current` look for a newer edition, however lately one was looked for."""
        self._looked = -float("inf")

    def current(self) -> Compiled:
        """The newest edition that opens. Looks for a newer one at most once a second.

        With one open, a newer one that is damaged is logged and the open one stays. Raises
        Unavailable when nothing was compiled yet, IntegrityError when what there is, is damaged.
        """
        held = self._held
        if held is None:
            with self._opening:
                return self._held or self._first()
        if self._clock() - self._looked >= LOOK_EVERY and self._opening.acquire(blocking=False):
            try:
                return self._newer(held)
            finally:
                self._opening.release()
        return held

    def newest(self) -> Compiled:
        """As `current`, having looked now; where another thread is opening it, that one is waited for."""
        with self._opening:
            held = self._held
            return self._first() if held is None else self._newer(held)

    def _first(self) -> Compiled:
        mark = self._current_mark()
        if mark is None:
            raise Unavailable(
                f"No edition of the catalogue is compiled in {self.root}.",
                cure="Run `chockbook demo --no-serve` first.",
            )
        return self._open(mark)

    def _newer(self, held: Compiled) -> Compiled:
        self._looked = self._clock()
        mark = self._current_mark()
        if mark == self._mark:
            return held
        if mark is None:
            _log.error("%s is gone; answering from edition %d", self.root / CURRENT, held.number)
            return held
        fresh = self._refusal is None or self._refusal.mark != mark
        try:
            return self._open(mark)
        except ChockbookError as error:
            if fresh:
                _log.error("%s Answering from edition %d.", error, held.number)
            return held

    def _open(self, mark: _Mark) -> Compiled:
        """Open what CURRENT names; a refusal is remembered, since checking reads every file."""
        now = self._clock()
        refusal = self._refusal
        if refusal and refusal.mark == mark and now - refusal.at < TRY_AGAIN_AFTER:
            raise type(refusal.error)(refusal.error.message, cure=refusal.error.cure)
        try:
            opened = open_edition(self._named(), self._checked)
        except OSError as error:
            refused: ChockbookError = Unavailable(f"The compiled edition cannot be read: {error}.", cure=CURE)
        except ChockbookError as error:
            refused = error
        else:
            self._held, self._mark, self._refusal, self._looked = opened, mark, None, now
            return opened
        self._refusal = _Refusal(mark, refused, now)
        raise refused

    def _named(self) -> Path:
        path = self.root / CURRENT
        name = path.read_text(encoding="utf-8", errors="replace").strip()
        if not NAME.fullmatch(name):
            raise damaged(path, "names no edition")
        return self.root / EDITIONS / name

    def _current_mark(self) -> _Mark | None:
        """What changes whenever CURRENT is replaced."""
        try:
            status = os.stat(self.root / CURRENT)
        except FileNotFoundError:
            return None
        return (status.st_ino, status.st_mtime_ns, status.st_size)
