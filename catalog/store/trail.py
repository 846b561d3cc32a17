"""The trail of who did what: added to at its end only, read in parts, recomputed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, Select, func, insert, select

from catalog.domain.canonical import NotCanonical, canonical_bytes, parse_canonical
from catalog.domain.chain import ZERO
from catalog.domain.trail import TrailEntry
from catalog.store.rows import StoreFault
from catalog.store.tables_people import trail

# Names the lock that makes writers of the chain wait for each other on PostgreSQL; SQLite has one writer anyway.
_LOCK = 0x545241494C
_BATCH = 500


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which entries. actor, action: exactly these, all where "". since_us, before_us: half-open, UTC microseconds."""

    actor: str = ""
    action: str = ""
    since_us: int | None = None
    before_us: int | None = None


def append(conn: Connection, said: Mapping[str, Any], now_us: int) -> TrailEntry:
    """Add an entry after the last, inside `engine.write`. said: actor, via, action, subject, detail.

    Times never go back, whatever the clock does. Later writers of the trail wait until this transaction ends.
    """
    if conn.dialect.name == "postgresql":
        conn.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_LOCK})")
    last = conn.execute(select(trail).order_by(trail.c.seq.desc()).limit(1)).first()
    seq, prev, time = (last.seq + 1, last.hash, max(now_us, last.time_us)) if last else (1, ZERO, now_us)
    entry = TrailEntry(seq, prev, time, **said)
    row = {**said, "seq": seq, "prev": prev, "hash": entry.hash, "time_us": time}
    conn.execute(insert(trail), row | {"detail": canonical_bytes(dict(entry.detail))})
    return entry


def entries(conn: Connection, wanted: Wanted, *, limit: int, skip: int = 0) -> list[TrailEntry]:
    """The newest entries first."""
    found = _where(select(trail), wanted).order_by(trail.c.seq.desc()).limit(limit).offset(skip)
    return [_entry(row) for row in conn.execute(found)]


def in_order(conn: Connection, wanted: Wanted) -> Iterator[tuple[TrailEntry, str]]:
    """Every entry from the first on, with its hash as stored."""
    found = _where(select(trail), wanted).order_by(trail.c.seq)
    with conn.execute(found, execution_options={"yield_per": _BATCH}) as rows:
        for row in rows:
            yield _entry(row), row.hash


def count(conn: Connection, wanted: Wanted) -> int:
    return int(conn.execute(_where(select(func.count()).select_from(trail), wanted)).scalar_one())


def actions(conn: Connection) -> list[str]:
    """Every action there is an entry of."""
    return list(conn.execute(select(trail.c.action).distinct().order_by(trail.c.action)).scalars())


def head(conn: Connection) -> str:
    """The last entry's hash, "" for none."""
    return conn.execute(select(trail.c.hash).order_by(trail.c.seq.desc()).limit(1)).scalar() or ""


def has_hash(conn: Connection, hash_: str) -> bool:
    return conn.execute(select(trail.c.seq).where(trail.c.hash == hash_)).first() is not None


def faults(conn: Connection) -> Iterator[StoreFault]:
    """Where the chain does not hold, within `engine.reading_damaged`."""
    seq, prev, time = 0, ZERO, 0
    with conn.execute(select(trail).order_by(trail.c.seq), execution_options={"yield_per": _BATCH}) as rows:
        for row in rows:
            key = str(row.seq)
            if row.seq != seq + 1:
                yield StoreFault("trail", key, 0, f"Entry {seq + 1} should come here: entries are missing.")
            if row.prev != prev:
                yield StoreFault("trail", key, 0, "It does not follow the entry before it.")
            if not isinstance(row.time_us, int) or row.time_us < time:
                yield StoreFault("trail", key, 0, "It is older than the entry before it.")
            if _hash(row) != row.hash:
                yield StoreFault("trail", key, 0, "Its hash does not cover what it says now.")
            seq = row.seq if isinstance(row.seq, int) else seq + 1
            prev, time = row.hash, row.time_us if isinstance(row.time_us, int) else time


def _hash(row: Row[Any]) -> str:
    try:
        return _entry(row).hash
    except (NotCanonical, TypeError, ValueError):
        return ""


def _entry(row: Row[Any]) -> TrailEntry:
    detail = parse_canonical(bytes(row.detail))
    return TrailEntry(row.seq, row.prev, row.time_us, row.actor, row.via, row.action, row.subject, detail)


def _where(statement: Select[Any], wanted: Wanted) -> Select[Any]:
    if wanted.actor:
        statement = statement.where(trail.c.actor == wanted.actor)
    if wanted.action:
        statement = statement.where(trail.c.action == wanted.action)
    if wanted.since_us is not None:
        statement = statement.where(trail.c.time_us >= wanted.since_us)
    if wanted.before_us is not None:
        statement = statement.where(trail.c.time_us < wanted.before_us)
    return statement
