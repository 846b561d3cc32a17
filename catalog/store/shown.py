"""Which device fetched which edition, how often records are opened, and what holders of briefs are told.

A device is a random id that it drew itself. Counts are added outside requests.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import Connection, and_, func, insert, or_, select, true

from catalog.store.adding import inserting
from catalog.store.tables import editions, records
from catalog.store.tables_doubts import consulted, fetches, notices


@dataclass(frozen=True, slots=True)
class StoredFetch:
    """A device that had an edition. Days since 1 January 1970, UTC."""

    device: str
    edition: int
    first_day: int
    last_day: int


@dataclass(frozen=True, slots=True)
class StoredNotice:
    """What the holders of briefs about a revision are told of a fact."""

    id: str
    code: str
    path: str
    revision: str
    words: str
    author: str
    time_us: int


def add_fetches(conn: Connection, found: Sequence[tuple[str, int]], day: int) -> None:
    """(device, edition) seen on a day; editions that were never published are left out."""
    known = set(conn.scalars(select(editions.c.number)))
    rows = [
        {"device": device, "edition": edition, "first_day": day, "last_day": day}
        for device, edition in sorted(set(found))
        if edition in known
    ]
    if rows:
        adding = inserting(conn, fetches)
        # A clock that was put back must not make the last day the earlier one.
        later = func.max if conn.dialect.name == "sqlite" else func.greatest
        last = later(fetches.c.last_day, adding.excluded.last_day)
        conn.execute(adding.on_conflict_do_update(index_elements=["device", "edition"], set_={"last_day": last}), rows)


def devices_with(
    conn: Connection, spans: Sequence[tuple[int, int | None]], limit: int
) -> tuple[int, tuple[StoredFetch, ...]]:
    """(how many devices, the ones seen last) that fetched an edition of these half-open spans."""
    if not spans:
        return 0, ()
    within = or_(
        *(
            and_(fetches.c.edition >= since, true() if until is None else fetches.c.edition < until)
            for since, until in spans
        )
    )
    total = int(conn.execute(select(func.count(fetches.c.device.distinct())).where(within)).scalar_one())
    rows = conn.execute(
        select(fetches)
        .where(within)
        .order_by(fetches.c.last_day.desc(), fetches.c.device, fetches.c.edition)
        .limit(limit)
    )
    return total, tuple(StoredFetch(**row._mapping) for row in rows)


def add_consulted(conn: Connection, times: Mapping[str, int]) -> None:
    """Add how often records were opened; codes that are none are left out."""
    known = set(conn.scalars(select(records.c.code).where(records.c.code.in_(sorted(times)))))
    rows = [{"code": code, "times": more} for code, more in sorted(times.items()) if code in known]
    if rows:
        adding = inserting(conn, consulted)
        total = consulted.c.times + adding.excluded.times
        conn.execute(adding.on_conflict_do_update(index_elements=["code"], set_={"times": total}), rows)


def consulted_times(conn: Connection) -> dict[str, int]:
    """How often each record was opened, by code."""
    return {code: int(times) for code, times in conn.execute(select(consulted.c.code, consulted.c.times))}


def consulted_state(conn: Connection) -> tuple[int, int]:
    """(records, times) in all: another one as soon as a record was opened again."""
    found = select(func.count(), func.coalesce(func.sum(consulted.c.times), 0))
    records_opened, times = conn.execute(found).one()
    return int(records_opened), int(times)


def add_notice(conn: Connection, notice: StoredNotice) -> None:
    """Write down what holders are told."""
    conn.execute(insert(notices).values(**asdict(notice)))


def notices_of(conn: Connection, code: str, path: str = "") -> tuple[StoredNotice, ...]:
    """What was told of a record, or of one fact of it, newest first."""
    wanted = select(notices).where(notices.c.code == code).order_by(notices.c.time_us.desc(), notices.c.id)
    return tuple(_notices(conn, wanted.where(notices.c.path == path) if path else wanted))


def notices_about(conn: Connection, revisions: Sequence[str]) -> tuple[StoredNotice, ...]:
    """What was told to whoever holds a brief about these revisions, newest first."""
    wanted = select(notices).where(notices.c.revision.in_(revisions))
    return tuple(_notices(conn, wanted.order_by(notices.c.time_us.desc(), notices.c.id)))


def _notices(conn: Connection, wanted: Any) -> Iterator[StoredNotice]:
    for row in conn.execute(wanted):
        yield StoredNotice(**row._mapping)
