"""What a crew saw that a record does not say, sent to the steward with the revision they had before them."""

from dataclasses import dataclass

from catalog.domain.doubt import may_be_doubted
from catalog.errors import BadInput, NotFound
from catalog.resolve.answering.understood import without_personal
from catalog.services.clock import now_us
from catalog.services.counting import DEVICE
from catalog.services.house import House
from catalog.services.records import parsed_code
from catalog.store import read as store
from catalog.store.engine import read, write
from catalog.store.work import StoredReport, add_report

LONGEST = 1000


@dataclass(frozen=True, slots=True)
class Reported:
    """id, device: random, of whoever sends it. path: the fact it is about, "" for the record as a whole.

    revision: the one they had; words: what was seen.
    """

    id: str
    code: str
    path: str
    revision: str
    words: str
    device: str


def report(house: House, given: Reported) -> bool:
    """Keep a crew's report; whether it is new. Sent again under its id it is stored once.

    Numbers, plates, names and addresses found in the words are blanked. At most 60 a minute are taken by a process.
    Raises BadInput, NotFound, Conflict, Unavailable.
    """
    if not DEVICE.fullmatch(given.id) or not DEVICE.fullmatch(given.device):
        raise BadInput("An id is no random id.", cure="Give 16 to 64 letters, digits, - and _ drawn at random.")
    if given.path and not may_be_doubted(given.path):
        raise NotFound(f"{given.path!r} names no fact.", cure="Leave it out where it is about the whole record.")
    words = " ".join(given.words.split())
    if not words or len(words) > LONGEST:
        raise BadInput(
            "Nothing is said." if not words else "That is too long.", cure=f"Say it in 1 to {LONGEST} characters."
        )
    code = parsed_code(given.code)
    house.pace.step("reports")
    with read(house.engine) as conn:
        found = store.revision(conn, given.revision)
    if found is None or found.code != code:
        raise NotFound(f"{code} has no such revision.", cure="Send the hash of the revision you had before you.")
    kept = StoredReport(given.id, code, given.path, given.revision, without_personal(words), given.device, now_us())
    with write(house.engine) as conn:
        return add_report(conn, kept)
