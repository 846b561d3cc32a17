"""Reading: editions, and what each of them says.

Call inside `engine.read`. Functions answer None, or nothing, for what is not there; the
statements of the two questions asked most are public so that their query plans can be tested.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    Row,
    ScalarSelect,
    Select,
    func,
    or_,
    select,
)

from catalog.store import tables as t
from catalog.store.rows import Interval, Member, RevisionHistory, StoredEdition, StoredRevision
from catalog.store.tables import RECORD, SOURCE, VOCABULARY

# Rows fetched at a time where a result may be long.
_BATCH = 500


def editions(conn: Connection) -> tuple[StoredEdition, ...]:
    """Every edition, first to last."""
    return tuple(_edition(row) for row in conn.execute(select(t.editions).order_by(t.editions.c.number)))


def edition(conn: Connection, number: int) -> StoredEdition | None:
    """One edition by its number."""
    return _one_edition(conn, select(t.editions).where(t.editions.c.number == number))


def latest(conn: Connection) -> StoredEdition | None:
    """The newest edition; None when nothing was published yet. Cheap enough to ask every second."""
    return _one_edition(conn, select(t.editions).order_by(t.editions.c.number.desc()).limit(1))


def edition_at(conn: Connection, time_us: int) -> StoredEdition | None:
    """The edition in force at a time; None before the first."""
    in_force = select(t.editions).where(t.editions.c.published_at_us <= time_us)
    return _one_edition(conn, in_force.order_by(t.editions.c.published_at_us.desc()).limit(1))


def at_edition(code: str, number: int) -> Select[Any]:
    """The statement behind `record_at`."""
    return _record(code).where(*_listed_at(number))


def at_time(code: str, time_us: int) -> Select[Any]:
    """The statement behind `record_at_time`."""
    return _record(code).where(*_listed_at(_number_at(time_us)))


def record_at(conn: Connection, code: str, number: int) -> StoredRevision | None:
    """The record as it is listed in an edition; None where it is not."""
    return _one_revision(conn, at_edition(code, number))


def record_at_time(conn: Connection, code: str, time_us: int) -> StoredRevision | None:
    """The record as the catalogue said at a time; None where it was not listed then."""
    return _one_revision(conn, at_time(code, time_us))


def last_listed(conn: Connection, code: str, number: int) -> StoredRevision | None:
    """The record as it was last listed in an edition or before it: also what a withdrawn one said."""
    newest = _record(code).where(t.listings.c.from_edition <= number)
    return _one_revision(conn, newest.order_by(t.listings.c.from_edition.desc()).limit(1))


def withdrawal(conn: Connection, code: str, number: int) -> str | None:
    """Why a record is no longer listed in an edition; None when it is listed, or never was."""
    row = conn.execute(
        select(t.listings.c.to_edition, t.listings.c.close_reason)
        .where(t.listings.c.kind == RECORD, t.listings.c.key == code, t.listings.c.from_edition <= number)
        .order_by(t.listings.c.from_edition.desc())
        .limit(1)
    ).first()
    if row is None or row.to_edition is None or row.to_edition > number:
        return None
    reason: str = row.close_reason
    return reason


def withdrawals(conn: Connection, number: int) -> dict[str, str]:
    """Every record that was listed before an edition and is not in it, with the reason."""
    later = t.listings.alias("later")
    again = select(later.c.key).where(
        later.c.kind == RECORD,
        later.c.key == t.listings.c.key,
        later.c.from_edition > t.listings.c.from_edition,
        later.c.from_edition <= number,
    )
    rows = conn.execute(
        select(t.listings.c.key, t.listings.c.close_reason)
        .where(t.listings.c.kind == RECORD, t.listings.c.to_edition <= number, ~again.exists())
        .order_by(t.listings.c.key)
    )
    return {row.key: row.close_reason for row in rows}


def members(conn: Connection, number: int, kind: str) -> Iterator[Member]:
    """The members of one kind in an edition, in key order, with their content; streams."""
    table, joined, content_hash = {
        RECORD: (t.revisions, t.revisions.c.hash == t.listings.c.revision, t.revisions.c.content_hash),
        SOURCE: (t.sources, t.sources.c.key == t.listings.c.key, t.sources.c.hash),
        VOCABULARY: (t.vocabularies, t.vocabularies.c.hash == t.listings.c.revision, t.vocabularies.c.hash),
    }[kind]
    statement = (
        select(t.listings.c.key, t.listings.c.revision, table.c.content, content_hash.label("content_hash"))
        .join_from(t.listings, table, joined)
        .where(t.listings.c.kind == kind, *_listed_at(number))
        .order_by(t.listings.c.key)
    )
    # Closed also when the caller stops half-way.
    with conn.execute(statement, execution_options={"yield_per": _BATCH}) as rows:
        for row in rows:
            yield Member(kind, row.key, row.revision, row.content, row.content_hash)


def history(conn: Connection, code: str) -> tuple[RevisionHistory, ...]:
    """Every revision of a record, first to last, with the editions it was listed in."""
    listed: dict[str, list[Interval]] = {}
    intervals = select(t.listings).where(t.listings.c.kind == RECORD, t.listings.c.key == code)
    for row in conn.execute(intervals.order_by(t.listings.c.from_edition)):
        interval = Interval(row.from_edition, row.to_edition, row.close_reason)
        listed.setdefault(row.revision, []).append(interval)
    rows = conn.execute(select(t.revisions).where(t.revisions.c.code == code).order_by(t.revisions.c.seq))
    return tuple(RevisionHistory(_revision(row), tuple(listed.get(row.hash, ()))) for row in rows)


def revision(conn: Connection, revision_hash: str) -> StoredRevision | None:
    """One revision by its hash."""
    return _one_revision(conn, select(t.revisions).where(t.revisions.c.hash == revision_hash))


def revisions_of(conn: Connection, hashes: Sequence[str]) -> Iterator[StoredRevision]:
    """Revisions by their hashes, in any order; what is read is let go as it is taken."""
    return map(_revision, _some(conn, select(t.revisions), t.revisions.c.hash, hashes))


def sources_of(conn: Connection, keys: Sequence[str]) -> dict[str, Member]:
    """Sources by "NUMBER/ISSUE", whichever editions list them."""
    found = _some(conn, select(t.sources), t.sources.c.key, keys)
    return {row.key: Member(SOURCE, row.key, row.hash, row.content, row.hash) for row in found}


def _some(conn: Connection, statement: Select[Any], column: ColumnElement[str], wanted: Sequence[str]) -> Iterator[Any]:
    """The rows whose column is one of those wanted, some hundreds at a time."""
    for start in range(0, len(wanted), _BATCH):
        yield from conn.execute(statement.where(column.in_(wanted[start : start + _BATCH])))


def stored_source(conn: Connection, key: str) -> Member | None:
    """A source by "NUMBER/ISSUE", whichever editions list it."""
    row = conn.execute(select(t.sources).where(t.sources.c.key == key)).first()
    return None if row is None else Member(SOURCE, row.key, row.hash, row.content, row.hash)


def stored_vocabulary(conn: Connection, digest: str) -> Member | None:
    """A vocabulary by its hash, whichever editions list it."""
    row = conn.execute(select(t.vocabularies).where(t.vocabularies.c.hash == digest)).first()
    return None if row is None else Member(VOCABULARY, row.key, row.hash, row.content, row.hash)


def sequences(conn: Connection, number: int) -> dict[str, int]:
    """Which revision of each record an edition lists, by code."""
    statement = select(t.revisions.c.code, t.revisions.c.seq).join_from(
        t.listings, t.revisions, t.revisions.c.hash == t.listings.c.revision
    )
    rows = conn.execute(statement.where(t.listings.c.kind == RECORD, *_listed_at(number)))
    return {row.code: row.seq for row in rows}


def record_count(conn: Connection, number: int) -> int:
    """How many records an edition lists."""
    statement = select(func.count()).select_from(t.listings).where(t.listings.c.kind == RECORD, *_listed_at(number))
    return int(conn.execute(statement).scalar_one())


def record_counts(conn: Connection) -> dict[int, int]:
    """How many records each edition lists, by edition number."""
    opened = _counted(conn, t.listings.c.from_edition)
    closed = _counted(conn, t.listings.c.to_edition)
    counts: dict[int, int] = {}
    running = 0
    for number in conn.execute(select(t.editions.c.number).order_by(t.editions.c.number)).scalars():
        running += opened.get(number, 0) - closed.get(number, 0)
        counts[number] = running
    return counts


def _counted(conn: Connection, column: Column[Any]) -> dict[int, int]:
    statement = select(column.label("number"), func.count().label("records"))
    rows = conn.execute(statement.where(t.listings.c.kind == RECORD, column.is_not(None)).group_by(column))
    return {row.number: row.records for row in rows}


def _record(code: str) -> Select[Any]:
    return (
        select(t.revisions)
        .join_from(t.listings, t.revisions, t.revisions.c.hash == t.listings.c.revision)
        .where(t.listings.c.kind == RECORD, t.listings.c.key == code)
    )


def _listed_at(number: int | ScalarSelect[int]) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    still = or_(t.listings.c.to_edition.is_(None), t.listings.c.to_edition > number)
    return t.listings.c.from_edition <= number, still


def _number_at(time_us: int) -> ScalarSelect[int]:
    in_force = select(t.editions.c.number).where(t.editions.c.published_at_us <= time_us)
    return in_force.order_by(t.editions.c.published_at_us.desc()).limit(1).scalar_subquery()


def _one_edition(conn: Connection, statement: Select[Any]) -> StoredEdition | None:
    row = conn.execute(statement).first()
    return None if row is None else _edition(row)


def _one_revision(conn: Connection, statement: Select[Any]) -> StoredRevision | None:
    row = conn.execute(statement).first()
    return None if row is None else _revision(row)


def _edition(row: Row[Any]) -> StoredEdition:
    return StoredEdition(**row._mapping)


def _revision(row: Row[Any]) -> StoredRevision:
    values = dict(row._mapping)
    return StoredRevision(update=values.pop("update_id"), **values)
