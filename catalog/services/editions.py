"""Editions, and what differs between two of them."""

from collections.abc import Iterator

from sqlalchemy import Connection

from catalog.domain.delta import difference
from catalog.domain.record import Record
from catalog.domain.sources import source_from_document
from catalog.services.compiling import record_of, stored_edition_view
from catalog.services.house import House
from catalog.services.views import EditionView, MemberChange
from catalog.store.changes import changes
from catalog.store.engine import read
from catalog.store.read import editions, record_counts, revision, stored_source
from catalog.store.rows import Change


def list_editions(house: House) -> tuple[EditionView, ...]:
    """Every published edition, first to last."""
    with read(house.engine) as conn:
        counts = record_counts(conn)
        return tuple(stored_edition_view(edition, counts[edition.number]) for edition in editions(conn))


def edition_changes(house: House, a: int, b: int) -> tuple[MemberChange, ...]:
    """What differs from edition a to edition b; 0 stands for before the first. Raises NotFound."""
    with read(house.engine) as conn:
        return tuple(_described(conn, changes(conn, a, b)))


def _described(conn: Connection, found: tuple[Change, ...]) -> Iterator[MemberChange]:
    for change in found:
        match change.kind:
            case "record":
                yield _record_change(conn, change)
            case "source":
                stored = stored_source(conn, change.key)
                title = source_from_document(stored.document).title if stored else change.key
                yield MemberChange("source", change.key, title, _action(change), change.close_reason or "")
            case _:
                yield MemberChange(change.kind, change.key, change.key, _action(change), change.close_reason or "")


def _record_change(conn: Connection, change: Change) -> MemberChange:
    old, _ = _record(conn, change.old)
    new, reason = _record(conn, change.new)
    shown = new or old
    title = shown.identity.title if shown else change.key
    if change.close_reason is not None:
        return MemberChange("record", change.key, title, "withdrawn", change.close_reason)
    delta = difference(old, new) if old and new else None
    return MemberChange("record", change.key, title, _action(change), reason, delta)


def _record(conn: Connection, digest: str | None) -> tuple[Record | None, str]:
    stored = revision(conn, digest) if digest else None
    return (None, "") if stored is None else (record_of(stored.document), stored.reason)


def _action(change: Change) -> str:
    if change.old is None:
        return "added"
    return "withdrawn" if change.new is None else "changed"
