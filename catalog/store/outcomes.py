"""Outcomes of described vehicles, and the calibrations fitted to them: written once, never changed."""

import hashlib
from collections.abc import Iterator
from dataclasses import asdict, dataclass

from sqlalchemy import Connection, func, insert, select

from catalog.errors import Conflict
from catalog.store.adding import inserting
from catalog.store.tables import calibrations, outcomes


@dataclass(frozen=True, slots=True)
class StoredOutcome:
    """A row of `outcomes`. cues: canonical JSON."""

    id: str
    day: int
    edition: int
    outcome: str
    code: str | None
    proof: str
    cues: bytes
    reader: str


def add_outcome(conn: Connection, outcome: StoredOutcome) -> bool:
    """Store it; whether it is new. One sent again says the same; one of the same id that does not raises Conflict.

    The day of the first sending holds.
    """
    there = _by_id(conn, outcome.id)
    if there is None:
        adding = inserting(conn, outcomes)
        once = adding.on_conflict_do_nothing(index_elements=["id"]).returning(outcomes.c.id)
        if conn.execute(once, asdict(outcome)).first():
            return True
        there = _by_id(conn, outcome.id)  # another sending of it came between
    told = ("edition", "outcome", "code", "proof", "cues")
    if there is None or any(getattr(there, name) != getattr(outcome, name) for name in told):
        raise Conflict("Another outcome was sent under this id.", cure="Give each outcome a random id of its own.")
    return False


def newest_outcomes(conn: Connection, limit: int) -> Iterator[StoredOutcome]:
    """The newest so many, by day and id."""
    found = select(outcomes).order_by(outcomes.c.day.desc(), outcomes.c.id).limit(limit)
    for row in conn.execute(found):
        yield StoredOutcome(**row._mapping)


def outcome_total(conn: Connection) -> int:
    """How many there are; none ever goes."""
    return int(conn.execute(select(func.count()).select_from(outcomes)).scalar_one())


def outcome_counts(conn: Connection) -> dict[tuple[str, str], int]:
    """How many there are by outcome and proof."""
    found = select(outcomes.c.outcome, outcomes.c.proof, func.count()).group_by(outcomes.c.outcome, outcomes.c.proof)
    return {(row[0], row[1]): int(row[2]) for row in conn.execute(found)}


def add_calibration(conn: Connection, content: bytes, time_us: int) -> int:
    """Store a fit after the others; its number. Raises Conflict for one that is there already."""
    digest = hashlib.sha256(content).hexdigest()
    if conn.execute(select(calibrations.c.number).where(calibrations.c.hash == digest)).first():
        raise Conflict("The same calibration is stored already.", cure="Nothing is to be done.")
    number = int(conn.execute(select(func.coalesce(func.max(calibrations.c.number), 0) + 1)).scalar_one())
    row = {"number": number, "hash": digest, "content": content, "time_us": time_us}
    conn.execute(insert(calibrations), row)
    return number


def newest_calibration(conn: Connection) -> tuple[int, bytes] | None:
    """(number, content) of the fit made last; None before the first. Cheap enough to ask every second."""
    row = conn.execute(
        select(calibrations.c.number, calibrations.c.content).order_by(calibrations.c.number.desc()).limit(1)
    ).first()
    return None if row is None else (int(row.number), bytes(row.content))


def _by_id(conn: Connection, id_: str) -> StoredOutcome | None:
    row = conn.execute(select(outcomes).where(outcomes.c.id == id_)).first()
    return None if row is None else StoredOutcome(**row._mapping)
