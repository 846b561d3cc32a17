"""The whole catalogue as it stood in an edition or at a time.

Most records of an edition not long past say what they say now, so only those that do not are read from the database.
"""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.domain.canonical import parse_canonical
from catalog.errors import BadInput
from catalog.resolve.rows import subtitle
from catalog.services.compiling import record_of
from catalog.services.house import House
from catalog.services.records import list_records, named_edition, withdrawn_records
from catalog.services.views import EditionView, RecordSummary
from catalog.store import read as store
from catalog.store.engine import read
from catalog.store.turn import members_at

SORTS = ("code", "title")


@dataclass(frozen=True, slots=True)
class CatalogueAsked:
    """edition or at (aware), not both; neither for the newest. words: all in code, title, line. sort: one of SORTS."""

    edition: int | None = None
    at: datetime | None = None
    words: str = ""
    sort: str = "code"


def catalogue(house: House, asked: CatalogueAsked) -> tuple[EditionView, tuple[RecordSummary, ...]]:
    """The edition, and its records, do-not-use ones last. Raises BadInput, NotFound, Unavailable."""
    if asked.sort not in SORTS:
        raise BadInput(f"sort is {asked.sort!r}.", cure=f"Use one of: {', '.join(SORTS)}.")
    edition = named_edition(house, asked.edition, asked.at)
    compiled = house.shelf.current()
    if edition.number == compiled.number:
        rows = list_records(house)
    else:
        with read(house.engine) as conn:
            rows = _past(conn, compiled, edition.number)
    words = asked.words.lower().split()
    found = [row for row in rows if all(word in f"{row.code} {row.title} {row.subtitle}".lower() for word in words)]
    by_title = asked.sort == "title"
    return edition, tuple(sorted(found, key=lambda row: (bool(row.withdrawn), row.title if by_title else "", row.code)))


def _past(conn: Connection, compiled: Compiled, number: int) -> tuple[RecordSummary, ...]:
    meta = compiled.tables.meta
    now = {
        code: (compiled.revision(code)[0], title, line)
        for code, title, line in zip(meta["codes"], meta["titles"], meta["subtitles"], strict=True)
    }
    rows = []
    for (kind, code), revision in sorted(members_at(conn, number).items()):
        if kind != "record":
            continue
        known = now.get(code)
        if known is not None and known[0] == revision:
            rows.append(RecordSummary(code, known[1], known[2]))
            continue
        stored = store.revision(conn, revision)
        assert stored is not None  # it is listed
        record = record_of(parse_canonical(stored.content))
        rows.append(RecordSummary(code, record.identity.title, subtitle(record)))
    return (*rows, *withdrawn_records(conn, number))
