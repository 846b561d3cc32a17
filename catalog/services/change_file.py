"""What differs between two editions as a file that another site can follow: JSON Lines, the same bytes every time.

First the header, then every member that is closed or opened, by kind and key, with its content and hashes, last a line
that counts and covers them all, so that a file cut short is noticed. Each line is canonical JSON. Whoever holds the
members of the first edition and takes every line has those of the second.
"""

import hashlib
from typing import Any

from sqlalchemy import Connection

from catalog.domain.canonical import canonical_bytes, parse_canonical
from catalog.domain.chain import ZERO
from catalog.errors import IntegrityError, NotFound
from catalog.services.house import House
from catalog.store import read as store
from catalog.store.changes import changes
from catalog.store.engine import read
from catalog.store.rows import Change, StoredEdition

FORMAT = 1
Line = dict[str, Any]


def change_lines(house: House, a: int, b: int) -> tuple[Line, ...]:
    """The lines from edition a to edition b; a may be 0, before the first, or the later of the two. Raises NotFound."""
    with read(house.engine) as conn:
        found = changes(conn, a, b)
        later = _edition(conn, b)
        earlier = _edition(conn, a) if a else None
        header: Line = {
            "line": "header",
            "format": FORMAT,
            "from": a,
            "from_hash": earlier.hash if earlier else ZERO,
            "to": b,
            "to_hash": later.hash,
            "published_us": later.published_at_us,
            "author": later.author,
            "note": later.reason,
        }
        lines = [header, *(_member(conn, change) for change in found)]
    return (*lines, {"line": "end", "lines": len(lines), "sha256": _covering(lines)})


def change_bytes(house: House, a: int, b: int) -> bytes:
    """The same as a file. Raises NotFound."""
    return b"".join(canonical_bytes(line) + b"\n" for line in change_lines(house, a, b))


def checked_lines(content: bytes) -> tuple[Line, ...]:
    """The members of a change file, its header first. Raises IntegrityError for one that is cut short or changed."""
    lines: list[Line] = [parse_canonical(line) for line in content.splitlines() if line]
    *told, end = lines or [{}]
    if end.get("line") != "end" or end.get("lines") != len(told) or end.get("sha256") != _covering(told):
        raise IntegrityError("The change file is cut short or was changed.", cure="Fetch it again.")
    return tuple(told)


def _member(conn: Connection, change: Change) -> Line:
    made: Line = {
        "line": "member",
        "kind": change.kind,
        "key": change.key,
        "closed": change.old or ZERO,
        "opened": change.new or ZERO,
    }
    if change.close_reason is not None:
        made["reason"] = change.close_reason
    if change.new is not None:
        made |= _content(conn, change)
    return made


def _content(conn: Connection, change: Change) -> Line:
    if change.kind == "record":
        stored = store.revision(conn, str(change.new))
        assert stored is not None
        return {"content_hash": stored.content_hash, "document": stored.document, "reason": stored.reason}
    member = (
        store.stored_source(conn, change.key)
        if change.kind == "source"
        else store.stored_vocabulary(conn, str(change.new))
    )
    assert member is not None
    return {"content_hash": member.content_hash, "document": member.document}


def _edition(conn: Connection, number: int) -> StoredEdition:
    found = store.edition(conn, number)
    if found is None:
        raise NotFound(f"There is no edition {number}.", cure="List them: chockbook edition list")
    return found


def _covering(lines: list[Line]) -> str:
    running = hashlib.sha256()
    for line in lines:
        running.update(canonical_bytes(line) + b"\n")
    return running.hexdigest()
