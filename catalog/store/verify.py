"""Recomputing everything that was ever promised about the stored bytes.

A revision's content, its chain, every listing, every edition. Rows are read as they stand, also
where somebody changed them behind the product's back, so nothing here may trust a type. An
attacker who recomputes every later hash leaves a consistent store: whoever keeps an edition's
hash elsewhere hands it in as `expect`.
"""

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

from sqlalchemy import Connection, LargeBinary, Row, Select, Table, and_, cast, func, select
from sqlalchemy.exc import DatabaseError

from catalog.domain.canonical import NotCanonical
from catalog.domain.chain import ZERO, Entry
from catalog.store import tables as t
from catalog.store import trail
from catalog.store.engine import damage, is_damage, reading_damaged
from catalog.store.rows import StoreFault
from catalog.store.tables import KINDS, RECORD, SOURCE, VOCABULARY
from catalog.store.turn import Said, Turn, edition_hash, members_at

_Value = TypeVar("_Value")

_BATCH = 500
_EDITION = "edition"
# Later than any edition: the end of a listing that is open.
_OPEN = 2**63


@dataclass(frozen=True, slots=True)
class StoreReport:
    """What was checked and what was wrong with it. head: the newest edition's hash, "" for none."""

    revisions: int
    sources: int
    vocabularies: int
    editions: int
    head: str
    faults: tuple[StoreFault, ...]


def verify(
    conn: Connection, expect: str | None = None, progress: Callable[[int], None] = lambda _: None
) -> StoreReport:
    """Check the whole store inside one `engine.read`. expect: an edition's hash kept elsewhere.

    progress: told how many of CHECKS are done.

    Holds one edition's members in memory; everything else streams.
    """
    with reading_damaged(conn):
        faults: list[StoreFault] = []
        for done, check in enumerate((*_CHECKS, trail.faults), 1):
            faults.extend(_as_far_as_readable(check(conn)))
            progress(done)
        published = _readable(conn, select(t.editions.c.hash).order_by(t.editions.c.number))
        if expect is not None and expect.strip().lower() not in published:
            problem = "No published edition has this hash: what was published has been rewritten or cut short."
            faults.append(StoreFault(_EDITION, expect, 0, problem))
        return StoreReport(
            revisions=_count(conn, t.revisions),
            sources=_count(conn, t.sources),
            vocabularies=_count(conn, t.vocabularies),
            editions=len(published),
            head=published[-1] if published else "",
            # Damage is met again by one check after another.
            faults=tuple(dict.fromkeys(faults)),
        )


def _as_far_as_readable(found: Iterator[StoreFault]) -> Iterator[StoreFault]:
    try:
        for fault in found:
            # Damaged text may hold what no terminal or page can show.
            yield fault._replace(key=str(fault.key).encode("utf-8", "replace").decode())
    except DatabaseError as error:
        if not is_damage(error):
            raise
        yield StoreFault("file", "", 0, f"The database file cannot be read to the end: {error.orig}.")


def _file(conn: Connection) -> Iterator[StoreFault]:
    for line in damage(conn):
        yield StoreFault("file", "", 0, f"The database file is damaged: {line}.")


def _revisions(conn: Connection) -> Iterator[StoreFault]:
    code, seq, prev = None, 0, ZERO
    hashes: set[str] = set()
    rows = _stream(conn, _with_bytes(t.revisions).order_by(t.revisions.c.code, t.revisions.c.seq))
    for row in rows:
        if row.code != code:
            code, seq, prev, hashes = row.code, 0, ZERO, {ZERO}
        for problem in _revision_problems(row, seq + 1, prev, hashes):
            yield StoreFault(RECORD, row.code, _whole(row.seq), problem)
        seq, prev = _whole(row.seq), row.hash
        hashes.add(row.hash)


def _revision_problems(row: Row[Any], seq: int, prev: str, hashes: set[str]) -> Iterator[str]:
    if _sha256(row.stored) != row.content_hash:
        yield "The stored document is not the one that was published."
    if row.seq != seq:
        yield f"Revision {seq} should come here: revisions are missing or renumbered."
    elif row.prev != prev:
        yield "It does not follow the revision before it."
    if row.base not in hashes:
        yield "It was made against a revision that is not in this record."
    if _entry_hash(row) != row.hash:
        yield "Its hash does not cover what is stored: the entry was changed after it was published."


def _records(conn: Connection) -> Iterator[StoreFault]:
    """Records and revisions that nothing leads to."""
    bare = select(t.records.c.code).where(~_exists(t.revisions, t.revisions.c.code == t.records.c.code))
    for code in conn.execute(bare).scalars():
        yield StoreFault(RECORD, code, 0, "The record has no revision.")
    listed = and_(
        t.listings.c.kind == RECORD,
        t.listings.c.key == t.revisions.c.code,
        t.listings.c.revision == t.revisions.c.hash,
    )
    unlisted = select(t.revisions.c.code, t.revisions.c.seq).where(~_exists(t.listings, listed))
    for row in conn.execute(unlisted):
        yield StoreFault(RECORD, row.code, _whole(row.seq), "No edition ever listed this revision.")
    strays = select(t.revisions.c.code, t.revisions.c.seq).where(
        ~_exists(t.records, t.records.c.code == t.revisions.c.code)
    )
    for row in conn.execute(strays):
        yield StoreFault(RECORD, row.code, _whole(row.seq), "The record it belongs to is missing.")


def _sources(conn: Connection) -> Iterator[StoreFault]:
    for row in _stream(conn, _with_bytes(t.sources).order_by(t.sources.c.key)):
        if _sha256(row.stored) != row.hash:
            yield StoreFault(SOURCE, row.key, 0, "The stored source is not the one that was published.")


def _vocabularies(conn: Connection) -> Iterator[StoreFault]:
    for row in _stream(conn, _with_bytes(t.vocabularies).order_by(t.vocabularies.c.key)):
        if _sha256(row.stored) != row.hash:
            yield StoreFault(VOCABULARY, row.key, 0, "The stored vocabulary is not the one that was published.")


def _listings(conn: Connection) -> Iterator[StoreFault]:
    """Each listing leads to a revision of its member, and no two of a member overlap."""
    for kind, table, revision, key in (
        (RECORD, t.revisions, t.revisions.c.hash, t.revisions.c.code),
        (SOURCE, t.sources, t.sources.c.hash, t.sources.c.key),
        (VOCABULARY, t.vocabularies, t.vocabularies.c.hash, t.vocabularies.c.key),
    ):
        there = _exists(table, revision == t.listings.c.revision, key == t.listings.c.key)
        for row in conn.execute(select(t.listings).where(t.listings.c.kind == kind, ~there)):
            problem = f"Edition {row.from_edition} lists a revision of it that is not stored."
            yield StoreFault(kind, row.key, 0, problem)
    member, end = None, 0
    in_order = select(t.listings).order_by(t.listings.c.kind, t.listings.c.key, t.listings.c.from_edition)
    for row in _stream(conn, in_order):
        start, until = _whole(row.from_edition), _OPEN if row.to_edition is None else _whole(row.to_edition)
        if row.kind not in KINDS:
            yield StoreFault(str(row.kind), row.key, 0, "This is no kind of member.")
        if (row.kind, row.key) != member:
            member, end = (row.kind, row.key), 0
        if start < end:
            yield StoreFault(row.kind, row.key, 0, f"It is listed twice in edition {start}.")
        if until <= start:
            yield StoreFault(row.kind, row.key, 0, f"Its listing from edition {start} ends before it begins.")
        end = max(end, until)


def _editions(conn: Connection) -> Iterator[StoreFault]:
    number, prev, time_us = 0, ZERO, None
    for row in conn.execute(select(t.editions).order_by(t.editions.c.number)).all():
        name = str(row.number)
        if row.number != number + 1:
            yield StoreFault(_EDITION, name, 0, f"Edition {number + 1} should come here: editions are missing.")
        if row.prev != prev:
            yield StoreFault(_EDITION, name, 0, "It does not follow the edition before it.")
        if time_us is not None and _whole(row.published_at_us) <= time_us:
            yield StoreFault(_EDITION, name, 0, "It was not published after the edition before it.")
        turn = Turn(row.number, row.prev, row.published_at_us)
        said = Said(row.author, row.reason, _closed(conn, row.number))
        if _edition_hash(turn, members_at(conn, row.number), said) != row.hash:
            yield StoreFault(_EDITION, name, 0, "Its hash does not cover what it lists and says now.")
        number, prev, time_us = row.number, row.hash, _whole(row.published_at_us)


def _closed(conn: Connection, number: int) -> dict[tuple[str, str], str]:
    """Why each member withdrawn in an edition went, as it stands."""
    rows = conn.execute(
        select(t.listings.c.kind, t.listings.c.key, t.listings.c.close_reason).where(
            t.listings.c.to_edition == number, t.listings.c.close_reason.is_not(None)
        )
    )
    return {(row.kind, row.key): row.close_reason for row in rows}


def _edition_hash(turn: Turn, members: dict[tuple[str, str], str], said: Said) -> str:
    try:
        return edition_hash(turn, members, said)
    except (NotCanonical, TypeError):
        return ""


def _entry_hash(row: Row[Any]) -> str:
    entry = Entry(
        code=row.code,
        seq=row.seq,
        prev=row.prev,
        base=row.base,
        format=row.format,
        content_hash=row.content_hash,
        author=row.author,
        time=row.time_us,
        reason=row.reason,
        update=row.update_id,
    )
    try:
        return entry.hash
    except NotCanonical:
        return ""


def _with_bytes(table: Table) -> Select[Any]:
    """The rows with `stored`: the content as bytes, whatever SQLite was made to hold there."""
    others = (column for column in table.c if column.name != "content")
    return select(*others, cast(table.c.content, LargeBinary).label("stored"))


def _stream(conn: Connection, statement: Select[Any]) -> Iterator[Row[Any]]:
    with conn.execute(statement, execution_options={"yield_per": _BATCH}) as rows:
        yield from rows


def _exists(table: Table, *conditions: Any) -> Any:
    return select(1).select_from(table).where(*conditions).exists()


def _sha256(content: bytes | None) -> str:
    return hashlib.sha256(content or b"").hexdigest()


def _whole(value: object) -> int:
    return value if isinstance(value, int) else 0


def _count(conn: Connection, table: Table) -> int:
    return next(iter(_readable(conn, select(func.count()).select_from(table))), 0)


def _readable(conn: Connection, statement: Select[_Value]) -> list[_Value]:
    """The values asked for; none where the file is damaged, which a fault says already."""
    try:
        return list(conn.execute(statement).scalars())
    except DatabaseError as error:
        if not is_damage(error):
            raise
        return []


_CHECKS = (_file, _revisions, _records, _sources, _vocabularies, _listings, _editions)
CHECKS = len(_CHECKS) + 1  # and the trail
