"""Verifications started from a page: how far each is, and what it found."""

from dataclasses import asdict, dataclass

from sqlalchemy import Connection, insert, select, update

from catalog.store.tables_doubts import verifications


@dataclass(frozen=True, slots=True)
class StoredVerification:
    """A row of `verifications`. report: JSON, None until it has ended."""

    id: str
    author: str
    started_us: int
    alive_us: int
    done: int
    total: int
    ended_us: int | None = None
    report: bytes | None = None


def begin(conn: Connection, made: StoredVerification) -> None:
    """Write down that one has begun."""
    conn.execute(insert(verifications).values(**asdict(made)))


def progress(conn: Connection, made: StoredVerification) -> None:
    """Write down how far it is, or what it found."""
    values = {name: value for name, value in asdict(made).items() if name != "id"}
    conn.execute(update(verifications).where(verifications.c.id == made.id).values(**values))


def newest(conn: Connection, limit: int) -> tuple[StoredVerification, ...]:
    """Those begun last, newest first."""
    wanted = select(verifications).order_by(verifications.c.started_us.desc()).limit(limit)
    return tuple(StoredVerification(**row._mapping) for row in conn.execute(wanted))
