"""Photos of crew reports: written once with their report, what they show removable."""

from dataclasses import asdict, dataclass

from sqlalchemy import Connection, delete, func, insert, select

from catalog.errors import Conflict
from catalog.store.adding import inserting
from catalog.store.tables_doubts import photo_contents, report_photos


@dataclass(frozen=True, slots=True)
class StoredPhoto:
    """A row of `report_photos`."""

    report: str
    sent: str
    hash: str
    width: int
    height: int
    time_us: int


def add_photo(conn: Connection, photo: StoredPhoto, content: bytes) -> bool:
    """Store a report's photo; whether it is new. Another one for the same report raises Conflict."""
    there = photo_at(conn, photo.report)
    if there is None:
        adding = inserting(conn, report_photos)
        once = adding.on_conflict_do_nothing(index_elements=["report"]).returning(report_photos.c.report)
        if conn.execute(once, asdict(photo)).first():
            conn.execute(insert(photo_contents).values(report=photo.report, content=content))
            return True
        there = photo_at(conn, photo.report)  # another sending of it came between
    check_same(there, photo.sent)
    return False


def check_same(there: StoredPhoto | None, sent: str) -> None:
    """Raises Conflict where the photo that is there is not the one sent under this SHA-256."""
    if there is None or there.sent != sent:
        raise Conflict("This report has another photo.", cure="Send it as a report of its own.")


def photo_at(conn: Connection, report: str) -> StoredPhoto | None:
    """The photo of a report, None where none came."""
    row = conn.execute(select(report_photos).where(report_photos.c.report == report)).first()
    return None if row is None else StoredPhoto(**row._mapping)


def photos_listed(conn: Connection) -> dict[str, bool]:
    """Reports that a photo came with, and whether it is there still."""
    both = select(report_photos.c.report, photo_contents.c.report.is_not(None)).outerjoin(photo_contents)
    return {report: bool(there) for report, there in conn.execute(both)}


def photo_content(conn: Connection, report: str) -> bytes | None:
    """What the photo shows, None where there is none or it was taken away."""
    wanted = select(photo_contents.c.content).where(photo_contents.c.report == report)
    found: bytes | None = conn.execute(wanted).scalar()
    return found


def remove_content(conn: Connection, report: str) -> bool:
    """Take away what a photo shows; whether there was anything."""
    gone = delete(photo_contents).where(photo_contents.c.report == report).returning(photo_contents.c.report)
    return conn.execute(gone).first() is not None


def photos_since(conn: Connection, time_us: int) -> int:
    """How many came since."""
    count = select(func.count()).select_from(report_photos).where(report_photos.c.time_us >= time_us)
    return int(conn.execute(count).scalar() or 0)
