"""When briefs were opened: marked on disk while a page is read, written to the database outside requests.

A mark is an empty file named by brief and minute, so that opening writes nothing to the database, marking twice is
marking once, and a host that was killed between writing and tidying up writes nothing twice.
"""

import logging
import re
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from catalog.services.clock import SECOND, now_us
from catalog.services.writing_later import keep_writing
from catalog.store.briefs import StoredEvent, add_openings
from catalog.store.engine import write
from catalog.store.tables_briefs import OPENED

if TYPE_CHECKING:
    from catalog.services.house import House

EVERY = 10.0  # seconds between writes
_AT_ONCE = 500
_MINUTE = 60 * SECOND
_MARK = re.compile(r"(B-[0-9A-Z]{1,32})\.([0-9]{1,12})", re.ASCII)

_log = logging.getLogger(__name__)


def mark_opened(house: "House", id_: str) -> None:
    """Mark that a brief was opened in this minute. A disk that cannot be written keeps nobody from reading it."""
    try:
        folder = _folder(house)
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        (folder / f"{id_}.{now_us() // _MINUTE}").touch(mode=0o600)
    except OSError as error:
        _log.warning("An opened brief cannot be marked: %s", error.strerror)


def write_openings(house: "House") -> int:
    """Write what is marked; how many openings were new. Raises Unavailable, and the marks stay."""
    marks = dict(list(_marks(_folder(house)))[:_AT_ONCE])
    if not marks:
        return 0
    with write(house.engine) as conn:
        new = add_openings(conn, [*marks.values()])
    for path in marks:
        path.unlink(missing_ok=True)
    return new


def keep_openings(house: "House", stop: threading.Event) -> threading.Thread:
    """Start a daemon thread that writes what is marked, until `stop` is set and once more then."""
    return keep_writing("Opened briefs", lambda: write_openings(house), EVERY, stop)


def _marks(folder: Path) -> Iterator[tuple[Path, StoredEvent]]:
    for path in sorted(folder.iterdir()) if folder.is_dir() else ():
        if found := _MARK.fullmatch(path.name):
            id_, minute = found[1], int(found[2])
            yield path, StoredEvent(f"{id_}.{minute}", id_, OPENED, minute * _MINUTE, None)


def _folder(house: "House") -> Path:
    return house.settings.data / "opened"
