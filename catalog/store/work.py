"""Crew reports, and what was decided of the work list's entries: written once, never changed."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from typing import Any

from sqlalchemy import Connection, func, insert, select

from catalog.errors import Conflict
from catalog.store.adding import inserting
from catalog.store.tables_doubts import crew_reports, work_decisions


@dataclass(frozen=True, slots=True)
class StoredReport:
    """A row of `crew_reports`."""

    id: str
    code: str
    path: str
    revision: str
    words: str
    device: str
    time_us: int


@dataclass(frozen=True, slots=True)
class StoredWork:
    """A row of `work_decisions`."""

    id: str
    kind: str
    key: str
    action: str
    author: str
    time_us: int
    reason: str
    update_id: str


def add_report(conn: Connection, report: StoredReport) -> bool:
    """Store it; whether it is new. Another report under the same id raises Conflict."""
    there = report_at(conn, report.id)
    if there is not None:
        return _same(there, report)
    adding = inserting(conn, crew_reports)
    once = adding.on_conflict_do_nothing(index_elements=["id"]).returning(crew_reports.c.id)
    if conn.execute(once, asdict(report)).first():
        return True
    return _same(report_at(conn, report.id), report)  # another sending of it came between


def _same(there: StoredReport | None, report: StoredReport) -> bool:
    if there is None or replace(there, time_us=report.time_us) != report:
        raise Conflict("Another report was sent under this id.", cure="Give each report a random id of its own.")
    return False


def report_at(conn: Connection, id_: str) -> StoredReport | None:
    """One report by its id."""
    row = conn.execute(select(crew_reports).where(crew_reports.c.id == id_)).first()
    return None if row is None else StoredReport(**row._mapping)


def all_reports(conn: Connection) -> Iterator[StoredReport]:
    """Every report, newest first."""
    for row in conn.execute(select(crew_reports).order_by(crew_reports.c.time_us.desc(), crew_reports.c.id)):
        yield StoredReport(**row._mapping)


def report_total(conn: Connection) -> int:
    """How many there are; none ever goes."""
    return int(conn.execute(select(func.count()).select_from(crew_reports)).scalar_one())


def add_work(conn: Connection, decision: StoredWork) -> None:
    """Write a decision down."""
    conn.execute(insert(work_decisions).values(**asdict(decision)))


def decided(conn: Connection, kind: str | None = None, key: str | None = None) -> tuple[StoredWork, ...]:
    """Decisions, oldest first: of one kind and entry, or all."""
    wanted: Any = select(work_decisions).order_by(work_decisions.c.time_us, work_decisions.c.id)
    if kind is not None:
        wanted = wanted.where(work_decisions.c.kind == kind)
    if key is not None:
        wanted = wanted.where(work_decisions.c.key == key)
    return tuple(StoredWork(**row._mapping) for row in conn.execute(wanted))
