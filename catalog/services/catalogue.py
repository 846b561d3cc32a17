"""The whole catalogue as it stood in an edition or at a time.

Most records of an edition not long past say what they say now, so only those that do not are read from the database.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.domain.documents import record_from_document
from catalog.domain.upgrade import upgrade
from catalog.errors import BadInput
from catalog.resolve.rows import subtitle
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.records import list_records, named_edition, withdrawn_records
from catalog.services.remembered import Remembered
from catalog.services.views import EditionView, RecordSummary
from catalog.store import read as store
from catalog.store.engine import read
from catalog.store.turn import members_at

SORTS = ("code", "title")
MOST_KEPT = 4  # past editions whose records are remembered


@dataclass(frozen=True, slots=True)
class CatalogueAsked:
    """edition or at (aware), not both; neither for the newest. words: all in code, title, line. sort: one of SORTS.
    limit: None for all from offset on."""

    edition: int | None = None
    at: datetime | None = None
    words: str = ""
    sort: str = "code"
    offset: int = 0
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class CataloguePart:
    """Records of an edition, do-not-use ones last, and how many there are of such."""

    edition: EditionView
    rows: tuple[RecordSummary, ...]
    total: int


def catalogue(house: House, asked: CatalogueAsked) -> CataloguePart:
    """The records asked for. Raises BadInput, NotFound, Unavailable."""
    if asked.sort not in SORTS:
        raise BadInput(f"sort is {asked.sort!r}.", cure=f"Use one of: {', '.join(SORTS)}.")
    edition = named_edition(house, asked.edition, asked.at)
    compiled = house.shelf.current()
    end = None if asked.limit is None else asked.offset + asked.limit
    if edition.number == compiled.number:
        rows: Sequence[RecordSummary] = list_records(house)
    else:
        with read(house.engine) as conn:
            gone = sorted(withdrawn_records(conn, edition.number), key=lambda row: row.code)
            listed = [
                (key, digest) for (kind, key), digest in members_at(conn, edition.number).items() if kind == "record"
            ]
            listed.sort()
            if not asked.words.split() and asked.sort == "code":  # only those handed out have to be looked at
                made = _past(conn, compiled, listed[asked.offset : end])
                after = max(0, asked.offset - len(listed)), None if end is None else max(0, end - len(listed))
                rest = gone[after[0] : after[1]]
                return CataloguePart(edition, (*made, *rest), len(listed) + len(gone))
            # All of an edition's: it never changes.
            past = _whole.of(edition.hash, lambda: _past(conn, compiled, listed))
            rows = (*past, *gone)
    said = with_words(asked.words)
    found = [row for row in rows if said(f"{row.code} {row.title} {row.subtitle}")]
    by_title = asked.sort == "title"
    found.sort(key=lambda row: (bool(row.withdrawn), row.title if by_title else "", row.code))
    return CataloguePart(edition, tuple(found[asked.offset : end]), len(found))


Listed = Sequence[tuple[str, str]]  # code, hash of its revision


_whole: Remembered[tuple[RecordSummary, ...]] = Remembered(MOST_KEPT)


def _past(conn: Connection, compiled: Compiled, listed: Listed) -> tuple[RecordSummary, ...]:
    meta = compiled.tables.meta
    now = dict(zip(meta["codes"], zip(meta["titles"], meta["subtitles"], strict=True), strict=True))
    named = {code: now[code] for code, digest in listed if code in now and compiled.revision(code)[0] == digest}
    other = {digest: code for code, digest in listed if code not in named}
    for stored in store.revisions_of(conn, list(other)):
        named[other[stored.hash]] = _named(stored.content)
    return tuple(RecordSummary(code, *named[code]) for code, _ in listed)


def _named(content: bytes) -> tuple[str, str]:
    """(title, line) of a stored record: of all it says only what they are made of is read."""
    document = upgrade(json.loads(content))
    body = document.get("looks", {}).get("body")
    looks = {} if body is None else {"looks": {"body": body}}
    record = record_from_document({"format": document["format"], "identity": document["identity"], **looks})
    return record.identity.title, subtitle(record)
