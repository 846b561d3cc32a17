"""A thread that writes what waits in this process or on its disk to the database, outside requests."""

import logging
import threading
from collections.abc import Callable

from catalog.errors import ChockbookError

_log = logging.getLogger(__name__)


def keep_writing(what: str, write: Callable[[], object], every: float, stop: threading.Event) -> threading.Thread:
    """Start a daemon thread that writes every so many seconds, until `stop` is set and once more then.

    what: "Opened briefs", as the log calls them where they cannot be written; said once, not every time.
    """
    thread = threading.Thread(target=_keep, args=(what, write, every, stop), name=what, daemon=True)
    thread.start()
    return thread


def _keep(what: str, write: Callable[[], object], every: float, stop: threading.Event) -> None:
    complaint = ""
    while True:
        ended = stop.wait(every)
        try:
            write()
            complaint = ""
        except (ChockbookError, OSError) as error:  # a standby, a database that is away, a full disk
            if str(error) != complaint:
                complaint = str(error)
                _log.warning("%s cannot be written now: %s", what, complaint)
        if ended:
            return
