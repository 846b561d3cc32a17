"""Publishing, the mechanical half: one at a time, what is listed now, and the next edition.

`publish` and `go_back` both say which members come next; everything that differs from what is
listed now is closed and opened here, in one edition.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, bindparam, insert, or_, select, update

from catalog.domain.chain import ZERO, EditionEntry
from catalog.errors import BadInput, IntegrityError
from catalog.store.tables import editions, listings, publication_lock

# (kind, key) -> revision hash.
Members = Mapping[tuple[str, str], str]


@dataclass(frozen=True, slots=True)
class Turn:
    """The edition about to be published: its number, the hash it follows, its time."""

    number: int
    prev: str
    time_us: int


def take_turn(conn: Connection, now_us: int) -> Turn:
    """Wait for every publication under way, then say which edition comes next.

    Its time is later than the last edition's even when the clock was put back.
    """
    # SQLite has no row locks; there the transaction began as the only writer (BEGIN IMMEDIATE).
    if conn.execute(select(publication_lock.c.id).with_for_update()).first() is None:
        raise IntegrityError(
            "The publication lock's row is missing, so editions could be published side by side.",
            cure="Put it back: INSERT INTO publication_lock (id) VALUES (1); then run chockbook verify.",
        )
    last = conn.execute(
        select(editions.c.number, editions.c.hash, editions.c.published_at_us)
        .order_by(editions.c.number.desc())
        .limit(1)
    ).first()
    if last is None:
        return Turn(1, ZERO, now_us)
    return Turn(last.number + 1, last.hash, max(now_us, last.published_at_us + 1))


def members_at(conn: Connection, number: int) -> dict[tuple[str, str], str]:
    """Every member of an edition; empty for a number that was never published."""
    rows = conn.execute(
        select(listings.c.kind, listings.c.key, listings.c.revision).where(
            listings.c.from_edition <= number,
            or_(listings.c.to_edition.is_(None), listings.c.to_edition > number),
        )
    )
    return {(row.kind, row.key): row.revision for row in rows}


@dataclass(frozen=True, slots=True)
class Said:
    """What an edition says of itself. closed: why each member withdrawn in it goes, by (kind, key)."""

    author: str
    reason: str
    closed: Members


def edition_hash(turn: Turn, members: Members, said: Said) -> str:
    """The hash an edition with these members has."""
    listed = tuple((kind, key, revision) for (kind, key), revision in members.items())
    closed = tuple((kind, key, why) for (kind, key), why in said.closed.items())
    return EditionEntry(turn.number, turn.prev, turn.time_us, said.author, said.reason, listed, closed).hash


@dataclass(frozen=True, slots=True)
class Step:
    """From the members listed now to those listed next. closing: why a member goes, by (kind, key)."""

    before: Members
    after: Members
    closing: Mapping[tuple[str, str], str]


def put_edition(conn: Connection, turn: Turn, step: Step, author: str, reason: str) -> None:
    """Write the edition and its listings. Raises BadInput when it would equal the last one."""
    gone = sorted(key for key, revision in step.before.items() if step.after.get(key) != revision)
    come = sorted(key for key, revision in step.after.items() if step.before.get(key) != revision)
    if not gone and not come:
        raise BadInput(
            "There is nothing to publish: everything is already listed as it is given.",
            cure="Change, add or withdraw something first.",
        )
    closed = {key: step.closing[key] for key in gone if key in step.closing}
    conn.execute(
        insert(editions).values(
            number=turn.number,
            prev=turn.prev,
            hash=edition_hash(turn, step.after, Said(author, reason, closed)),
            published_at_us=turn.time_us,
            author=author,
            reason=reason,
        )
    )
    _close(conn, turn.number, ((key, closed.get(key)) for key in gone))
    opened = [
        {"kind": kind, "key": key, "from_edition": turn.number, "revision": step.after[kind, key]} for kind, key in come
    ]
    put_rows(conn, listings, opened)


def put_rows(conn: Connection, table: Any, rows: list[dict[str, Any]]) -> None:
    """Insert many rows, or none."""
    if rows:
        conn.execute(insert(table), rows)


def _close(conn: Connection, number: int, gone: Iterable[tuple[tuple[str, str], str | None]]) -> None:
    statement = (
        update(listings)
        .where(
            listings.c.kind == bindparam("of_kind"),
            listings.c.key == bindparam("of_key"),
            listings.c.to_edition.is_(None),
        )
        .values(to_edition=number, close_reason=bindparam("why"))
    )
    rows = [{"of_kind": kind, "of_key": key, "why": why} for (kind, key), why in gone]
    if rows:
        conn.execute(statement, rows)
