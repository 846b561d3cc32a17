"""Photos that come with crew reports: checked and drawn anew in a process of their own, shown to who looks after them.

A photo may show a face or a plate. It is kept for the steward alone, and can be taken away; that there was one stays.
"""

import hashlib
import threading
from dataclasses import dataclass

from catalog.domain.roles import Right
from catalog.errors import BadInput, NotFound, Unavailable
from catalog.intake.files.photo import PHOTO_LIMITS, read_photo
from catalog.intake.files.refusing import Refused
from catalog.services.acting import Actor, require
from catalog.services.clock import DAY, now_us
from catalog.services.counting import DEVICE
from catalog.services.house import House
from catalog.services.trail import note
from catalog.services.work_list import reason_of
from catalog.store.engine import read, write
from catalog.store.photos import (
    StoredPhoto,
    add_photo,
    check_same,
    photo_at,
    photo_content,
    photos_since,
    remove_content,
)
from catalog.store.work import report_at

LARGEST = PHOTO_LIMITS.size
MOST_A_DAY = 500
_SECONDS = 10
# Each is read by a process of its own, which may take a gigabyte.
_reading = threading.BoundedSemaphore(2)


@dataclass(frozen=True, slots=True)
class PhotoGiven:
    """report: id of the report it belongs to. device: that sent the report. content: the file, not yet checked."""

    report: str
    device: str
    content: bytes


def keep_photo(house: House, given: PhotoGiven) -> bool:
    """Keep the photo of a report that has come; whether it is new. Sent again it is stored once.

    Raises BadInput where it is no photo, NotFound where no such report came from that device, Conflict where the report
    has another photo, Unavailable where too many come.
    """
    if not DEVICE.fullmatch(given.report) or not DEVICE.fullmatch(given.device):
        raise BadInput("An id is no random id.", cure="Give the ids that the report was sent with.")
    if not given.content or len(given.content) > LARGEST:
        raise BadInput(
            "The photo is empty." if not given.content else "The photo is too large.",
            cure=f"Send at most {LARGEST // 1024**2} MB.",
        )
    sent = hashlib.sha256(given.content).hexdigest()
    with read(house.engine) as conn:
        report = report_at(conn, given.report)
        there = photo_at(conn, given.report)
        today = photos_since(conn, now_us() - DAY)
    if report is None or report.device != given.device:
        raise NotFound("No such report came from this device.", cure="Send the report first, then its photo.")
    if there is not None:
        check_same(there, sent)
        return False
    house.pace.step("reports")
    if today >= MOST_A_DAY:
        raise Unavailable(f"More than {MOST_A_DAY} photos came in a day.", cure="The words are kept. Send it tomorrow.")
    width, height, content = _redrawn(given.content)
    digest = hashlib.sha256(content).hexdigest()
    with write(house.engine) as conn:
        return add_photo(conn, StoredPhoto(given.report, sent, digest, width, height, now_us()), content)


def _redrawn(content: bytes) -> tuple[int, int, bytes]:
    if not _reading.acquire(timeout=_SECONDS):
        raise Unavailable("Too many photos come at once.", cure="Try again in a minute.")
    try:
        photo = read_photo(content)
    except Refused as refused:
        raise BadInput(f"That is {refused.found}.", cure=f"Send {refused.allowed}. {refused.cure}".strip()) from refused
    finally:
        _reading.release()
    return photo.width, photo.height, photo.content


def report_photo(house: House, actor: Actor | None, report: str) -> bytes:
    """The photo of a report, a JPEG. Raises NotSignedIn, Forbidden, NotFound, Unavailable."""
    require(actor, Right.UPDATE)
    with read(house.engine) as conn:
        content = photo_content(conn, report)
    if content is None:
        raise NotFound("There is no photo with this report.", cure="None came, or it was taken away.")
    return content


def remove_photo(house: House, actor: Actor | None, report: str, reason: str) -> None:
    """Take away what a photo shows, for good; that there was one stays. Raises BadInput, NotFound."""
    person = require(actor, Right.UPDATE)
    why = reason_of(reason)
    with write(house.engine) as conn:
        if not remove_content(conn, report):
            raise NotFound("There is no photo with this report.", cure="None came, or it was taken away.")
        note(conn, person, "remove photo", f"report/{report}", {"reason": why})
