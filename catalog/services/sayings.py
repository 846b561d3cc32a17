"""What people say and what it is read as, as the newest edition lists it, for the steward to review."""

import json
from dataclasses import dataclass
from functools import lru_cache

from catalog.domain.folding import fold
from catalog.resolve.reading.sayings import PREFIX, Saying, documents, listed
from catalog.services.house import House
from catalog.store import read as stored
from catalog.store.engine import read
from catalog.store.tables import VOCABULARY


@dataclass(frozen=True, slots=True)
class Sayings:
    """Rows of the tables of an edition. listed_in: the edition; 0 when there is none, and the rows are the program's.

    changed: tables in which this program, which is what reads, differs from that edition.
    attributes: what the rows of all tables are about. total: rows before anything was left out.
    """

    listed_in: int
    rows: tuple[Saying, ...]
    changed: tuple[str, ...]
    attributes: tuple[str, ...]
    total: int


def list_sayings(house: House, about: str = "", words: str = "") -> Sayings:
    """The sayings about an attribute, or that hold some words; all when neither is given. Raises Unavailable."""
    with read(house.engine) as conn:
        newest = stored.latest(conn)
        members = () if newest is None else stored.members(conn, newest.number, VOCABULARY)
        kept = tuple((member.key, member.content) for member in members if member.key.startswith(PREFIX))
    rows, changed = _listed(kept)
    wanted = fold(words)
    return Sayings(
        newest.number if newest is not None and kept else 0,
        tuple(row for row in rows if (not about or row.attribute == about) and (not wanted or _says(row, wanted))),
        changed,
        tuple(sorted({row.attribute for row in rows})),
        len(rows),
    )


@lru_cache(maxsize=2)
def _listed(kept: tuple[tuple[str, bytes], ...]) -> tuple[tuple[Saying, ...], tuple[str, ...]]:
    """Every row of an edition's tables, and the tables that this program has otherwise; its own rows where the
    edition has no tables. Worked out once an edition."""
    shipped = documents()
    tables = {key: json.loads(content) for key, content in kept}
    changed = tuple(key for key in sorted(shipped) if shipped[key] != tables.get(key)) if tables else ()
    return tuple(listed(tables or shipped)), changed


def _says(row: Saying, words: str) -> bool:
    heard = [*row.says, row.value, *(entry for entries in row.sets.values() for entry in entries)]
    return any(words in saying for saying in heard)
