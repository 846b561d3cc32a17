"""What differs between two editions, from the listings alone; nothing is replayed."""

from sqlalchemy import Connection, func, or_, select

from catalog.errors import NotFound
from catalog.store.rows import Change
from catalog.store.tables import editions, listings

_Key = tuple[str, str]


def changes(conn: Connection, a: int, b: int) -> tuple[Change, ...]:
    """From edition a to edition b, by (kind, key); b may be the earlier. 0 is before the first.

    Cost grows with what changed in between, not with the catalogue. Raises NotFound.
    """
    last = conn.execute(select(func.max(editions.c.number))).scalar() or 0
    for number in (a, b):
        if not 0 <= number <= last:
            raise NotFound(f"There is no edition {number}.", cure=f"The newest edition is {last}.")
    low, high = sorted((a, b))
    earlier, later = _left(conn, low, high), _entered(conn, low, high)
    reasons = _reasons(conn, low, high) if a < b else {}
    found = []
    for kind, key in sorted(earlier.keys() | later.keys()):
        old, new = earlier.get((kind, key)), later.get((kind, key))
        if a > b:
            old, new = new, old
        if old != new:
            found.append(Change(kind, key, old, new, reasons.get((kind, key)) if new is None else None))
    return tuple(found)


def _left(conn: Connection, low: int, high: int) -> dict[_Key, str]:
    """Listings of edition low that edition high no longer has."""
    rows = conn.execute(
        select(listings.c.kind, listings.c.key, listings.c.revision).where(
            listings.c.from_edition <= low, listings.c.to_edition > low, listings.c.to_edition <= high
        )
    )
    return {(kind, key): revision for kind, key, revision in rows}


def _entered(conn: Connection, low: int, high: int) -> dict[_Key, str]:
    """Listings of edition high that edition low did not have yet."""
    rows = conn.execute(
        select(listings.c.kind, listings.c.key, listings.c.revision).where(
            listings.c.from_edition > low,
            listings.c.from_edition <= high,
            or_(listings.c.to_edition.is_(None), listings.c.to_edition > high),
        )
    )
    return {(kind, key): revision for kind, key, revision in rows}


def _reasons(conn: Connection, low: int, high: int) -> dict[_Key, str]:
    """The last reason each member was withdrawn with; a member may have come back and gone again."""
    rows = conn.execute(
        select(listings.c.kind, listings.c.key, listings.c.close_reason)
        .where(listings.c.to_edition > low, listings.c.to_edition <= high, listings.c.close_reason.is_not(None))
        .order_by(listings.c.to_edition)
    )
    return {(kind, key): reason for kind, key, reason in rows}
