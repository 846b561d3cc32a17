"""The watch list and the checks made before publishing: written once, never changed."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import Connection, Select, func, insert, select

from catalog.store.tables_updates import gate_runs, watch_list, watch_list_ended
from catalog.store.updates import pack, unpack


@dataclass(frozen=True, slots=True)
class StoredWatch:
    """A row of `watch_list`. cues: canonical JSON. rank: among so many first the record must be found."""

    number: int
    name: str
    cues: bytes
    code: str
    rank: int
    author: str
    time_us: int


@dataclass(frozen=True, slots=True)
class StoredRun:
    """A row of `gate_runs`. content: the checks as they were shown."""

    number: int
    before: str
    candidate: str
    edition: int | None
    author: str
    time_us: int
    content: Any


def add_watch(conn: Connection, watch: StoredWatch) -> int:
    """Store one; its number. watch.number is not used."""
    number = int(conn.execute(select(func.coalesce(func.max(watch_list.c.number), 0) + 1)).scalar_one())
    conn.execute(insert(watch_list), asdict(watch) | {"number": number})
    return number


def end_watch(conn: Connection, number: int, author: str, time_us: int, reason: str) -> bool:
    """End one; False where there is none that is watched still."""
    if number not in {watch.number for watch in watched(conn)}:
        return False
    row = {"number": number, "author": author, "time_us": time_us, "reason": reason}
    conn.execute(insert(watch_list_ended), row)
    return True


def watched(conn: Connection) -> Iterator[StoredWatch]:
    """What is watched now, by number."""
    ended = select(watch_list_ended.c.number)
    for row in conn.execute(select(watch_list).where(watch_list.c.number.not_in(ended)).order_by(watch_list.c.number)):
        yield StoredWatch(**row._mapping)


def add_run(conn: Connection, run: StoredRun) -> int:
    """Store one; its number. run.number is not used."""
    number = int(conn.execute(select(func.coalesce(func.max(gate_runs.c.number), 0) + 1)).scalar_one())
    conn.execute(insert(gate_runs), asdict(run) | {"number": number, "content": pack(run.content)})
    return number


def run_of(conn: Connection, candidate: str, before: str) -> StoredRun | None:
    """The newest run of a candidate against an edition that was not published with."""
    found = select(gate_runs).where(
        gate_runs.c.candidate == candidate, gate_runs.c.before == before, gate_runs.c.edition.is_(None)
    )
    return _one(conn, found.order_by(gate_runs.c.number.desc()).limit(1))


def run_of_edition(conn: Connection, edition: int) -> StoredRun | None:
    """The checks an edition was published with; None where it came about otherwise."""
    return _one(conn, select(gate_runs).where(gate_runs.c.edition == edition))


def _one(conn: Connection, statement: Select[Any]) -> StoredRun | None:
    row = conn.execute(statement).first()
    if row is None:
        return None
    return StoredRun(**{**row._mapping, "content": unpack(row.content)})
