"""Keeping a host's compiled edition up with the store, outside requests."""

import logging
import threading
import time
from collections.abc import Callable

from catalog.errors import ChockbookError, IntegrityError, Unavailable
from catalog.services.calibrating import bring_calibration, check_current
from catalog.services.compiling import catch_up, compile_latest, is_behind
from catalog.services.house import House
from catalog.services.phone import offer
from catalog.services.record_ages import record_ages

EVERY = 1.0  # seconds between looks at the newest edition's number
# Seconds an edition is out before its calibration is checked and ages are reckoned: until then others open it.
SETTLED = 5.0

_log = logging.getLogger(__name__)


def bring_up(house: House, progress: Callable[[str], None]) -> None:
    """Have an edition to answer from before anybody asks: a host that has none compiles the newest.

    One that has an edition needs no database for this: it answers from what it has, and `follow`
    brings the newer one. Does nothing while nothing is published. Raises Unavailable.
    """
    try:
        house.shelf.current()
    except (Unavailable, IntegrityError):  # none yet, of another version, or damaged
        if is_behind(house):
            progress("Compiling the newest edition")
            compile_latest(house)


def follow(house: House, stop: threading.Event) -> threading.Thread:
    """Start a daemon thread that compiles whatever newer edition the store has, until `stop` is set, and checks the
    calibration on each once readers have it.

    One builder per host: the others wait on its file lock and find the work done. While the
    database is away, reading goes on from what is compiled.
    """
    thread = threading.Thread(target=_follow, args=(house, stop), name="edition follower", daemon=True)
    thread.start()
    return thread


def _follow(house: House, stop: threading.Event) -> None:
    complaint = ""
    seen, since = "", time.monotonic()
    while not stop.wait(EVERY):
        try:
            catch_up(house)
            bring_calibration(house)
            offer(house)  # phones have it before one asks
            current = house.shelf.current().hash
            if current != seen:
                seen, since = current, time.monotonic()
            elif time.monotonic() - since >= SETTLED:
                check_current(house)
                record_ages(house)  # the work list has them before somebody asks
            complaint = ""
        except (ChockbookError, OSError) as error:  # a full disk must not end it either
            if str(error) != complaint:  # said once, not every second
                complaint = str(error)
                _log.warning("The newest edition cannot be looked up now: %s", complaint)
