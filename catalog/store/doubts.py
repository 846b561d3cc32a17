"""Doubts as they were put down, and which of them stand.

A doubt stands in an edition when nothing listed since says the fact again. That is read from the listings, so that
restoring, a guide's update or going back ends a doubt without anybody ticking it off.
"""

from collections.abc import Iterator

from sqlalchemy import Connection, Row, insert, select

from catalog.domain.documents import record_from_document
from catalog.domain.doubt import said_at
from catalog.domain.upgrade import upgrade
from catalog.store import tables as t
from catalog.store.rows import StoredDoubt, document_of
from catalog.store.tables import RECORD
from catalog.store.tables_doubts import doubts


def put_doubt(conn: Connection, doubt: StoredDoubt) -> None:
    """Write a doubt down beside the edition it was published in."""
    conn.execute(insert(doubts).values(**doubt.__dict__))


def all_doubts(conn: Connection, code: str | None = None) -> tuple[StoredDoubt, ...]:
    """Every doubt there ever was, of one record or of all, newest first."""
    wanted = select(doubts).order_by(doubts.c.edition.desc())
    if code is not None:
        wanted = wanted.where(doubts.c.code == code)
    return tuple(_doubt(row) for row in conn.execute(wanted))


def standing_doubts(conn: Connection, number: int, code: str | None = None) -> tuple[StoredDoubt, ...]:
    """The doubts that stand in an edition, of one record or of all, newest first."""
    made = [doubt for doubt in all_doubts(conn, code) if doubt.edition <= number]
    return tuple(doubt for doubt in made if not any(_says_again(conn, doubt, number)))


def ended_in(conn: Connection, doubt: StoredDoubt) -> int | None:
    """The first edition after a doubt that says the fact again; None while none does."""
    return next((edition for edition in _says_again(conn, doubt, None)), None)


def _says_again(conn: Connection, doubt: StoredDoubt, number: int | None) -> Iterator[int]:
    """The editions since, up to one, in which a revision that says it came to be listed."""
    since = (
        select(t.listings.c.from_edition, t.revisions.c.content, t.revisions.c.content_hash)
        .join_from(t.listings, t.revisions, t.revisions.c.hash == t.listings.c.revision)
        .where(
            t.listings.c.kind == RECORD,
            t.listings.c.key == doubt.code,
            t.listings.c.from_edition > doubt.edition,
        )
        .order_by(t.listings.c.from_edition)
    )
    if number is not None:
        since = since.where(t.listings.c.from_edition <= number)
    for row in conn.execute(since).all():
        document = document_of(row.content, row.content_hash, f"a revision of {doubt.code}")
        if said_at(record_from_document(upgrade(document)), doubt.path):
            yield int(row.from_edition)


def _doubt(row: Row[tuple[object, ...]]) -> StoredDoubt:
    return StoredDoubt(**row._mapping)
