"""The guides: which there are, how much rests on each and how old it is, and their files.

Files lie in the database, so that one copy of it holds everything and every host can serve them.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalog.compiled import Compiled
from catalog.domain.roles import Right
from catalog.domain.sources import KIND, Source, source_from_document
from catalog.errors import BadInput, Conflict, NotFound, Unavailable
from catalog.services.acting import Actor, require
from catalog.services.clock import now_us
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.record_ages import Ages, record_ages
from catalog.services.records import read_source
from catalog.services.remembered import Remembered
from catalog.services.trail import note
from catalog.store.engine import read, write
from catalog.store.files import StoredFile, add_file, file_content, files_listed, files_of

LARGEST = 32 * 1024 * 1024
SORTS = ("key", "title", "issued", "facts")
# What a browser may show by itself; everything else is only handed over.
_MAGIC = ((b"%PDF-", "application/pdf"), (b"\x89PNG\r\n\x1a\n", "image/png"), (b"\xff\xd8\xff", "image/jpeg"))
OTHER = "application/octet-stream"


@dataclass(frozen=True, slots=True)
class SourceRow:
    """A guide of the newest edition. facts, records: that cite it. file: hash of its stored file, "" for none."""

    key: str
    number: str
    issue: int
    title: str
    kind: str
    issued: str
    pages: int | None
    sha256: str
    facts: int
    records: int
    file: str


@dataclass(frozen=True, slots=True)
class SourcesAsked:
    """words: all in number, title or publisher. kind: one, "" for all. sort: one of SORTS."""

    words: str = ""
    kind: str = ""
    sort: str = "key"


@dataclass(frozen=True, slots=True)
class OldRecord:
    """A record some of whose facts rest on nothing issued since a day, or cite nothing."""

    code: str
    title: str
    facts: int
    old: int
    unsourced: int


@dataclass(frozen=True, slots=True)
class FileGiven:
    """A guide's file. name: as it is called. stated_anew: said to be the guide's although the source states no hash."""

    key: str
    name: str
    content: bytes
    stated_anew: bool = False


@dataclass(frozen=True, slots=True)
class FileView:
    """A stored file. media_type: told from its first bytes, never from its name."""

    key: str
    hash: str
    name: str
    media_type: str
    content: bytes

    @property
    def header_name(self) -> str:
        """Its name as a quoted string of a header may hold it: ASCII, without quotation marks."""
        return self.name.encode("ascii", "replace").decode().replace('"', "_")


def list_sources(house: House, asked: SourcesAsked) -> tuple[SourceRow, ...]:
    """The guides of the newest edition. Files are left out while the database is away. Raises BadInput."""
    if asked.sort not in SORTS:
        raise BadInput(f"sort is {asked.sort!r}.", cure=f"Use one of: {', '.join(SORTS)}.")
    if asked.kind and asked.kind not in KIND.keys:
        raise BadInput(f"kind is {asked.kind!r}.", cure=f"Use one of: {', '.join(KIND.keys)}.")
    compiled = house.shelf.current()
    stored = _stored(house)
    said = with_words(asked.words)
    rows = [
        replace(row, file=stored[row.key]) if row.key in stored else row
        for row, text in _rows.of(compiled.hash, lambda: _read(compiled, record_ages(house)))
        if asked.kind in ("", row.kind) and said(text)
    ]
    return tuple(sorted(rows, key=lambda row: _order(row, asked.sort)))


def old_records(house: House, day: str) -> tuple[OldRecord, ...]:
    """Records with facts that rest on nothing issued since an ISO day, or on nothing at all; most such facts first."""
    rows = [
        OldRecord(code, one.title, one.facts, one.older_than(day), one.unsourced)
        for code, one in record_ages(house).items()
    ]
    rows = [row for row in rows if row.old or row.unsourced]
    return tuple(sorted(rows, key=lambda row: (-row.unsourced, -row.old, row.code)))


def keep_file(house: House, actor: Actor | None, given: FileGiven) -> str:
    """Store a guide's file; returns its SHA-256. The same again is stored once.

    Its hash must be the one the source states; where the source states none, whoever stores it says that it is its
    file. Raises NotSignedIn, Forbidden, BadInput, NotFound, Conflict, Unavailable.
    """
    person = require(actor, Right.UPDATE)
    if not given.content or len(given.content) > LARGEST:
        raise BadInput("The file is empty." if not given.content else "The file is too large.", cure="1 byte to 32 MB.")
    source = read_source(house, given.key)
    digest = hashlib.sha256(given.content).hexdigest()
    if source.sha256 is not None and source.sha256.lower() != digest:
        raise Conflict(
            f"This is not the file that {source.short} was read from: its SHA-256 is {digest[:12]}…, the source states "
            f"{source.sha256[:12]}….",
            cure="Store the file it was read from; another issue is a source of its own.",
        )
    if source.sha256 is None and not given.stated_anew:
        raise BadInput(
            f"{source.short} states no hash, so nothing says that this is its file.", cure="Say that it is, if it is."
        )
    name = "".join(char for char in given.name if char.isprintable() and char not in '/\\"')[-120:] or "file"
    row = StoredFile(given.key, digest, name, int(source.sha256 is not None), person.name, now_us())
    with write(house.engine) as conn:
        if add_file(conn, row, media_type_of(given.content), given.content):
            note(conn, person, "store file", given.key, {"hash": digest, "name": name})
    return digest


def source_file(house: House, key: str) -> FileView:
    """A guide's file, the one stored last. Raises NotFound, Unavailable."""
    with read(house.engine) as conn:
        found = files_of(conn, key)
        if not found:
            raise NotFound(f"No file of {key} is stored.", cure="Store it: chockbook source file KEY FILE")
        media_type, content = file_content(conn, found[0].hash)
    return FileView(key, found[0].hash, found[0].name, media_type, content)


def media_type_of(content: bytes) -> str:
    """From its first bytes."""
    return next((kind for magic, kind in _MAGIC if content.startswith(magic)), OTHER)


def _stored(house: House) -> dict[str, str]:
    try:
        with read(house.engine) as conn:
            return files_listed(conn)
    except Unavailable:
        return {}


_rows: Remembered[tuple[tuple[SourceRow, str], ...]] = Remembered(2)


def _read(compiled: Compiled, ages: Mapping[str, Ages]) -> tuple[tuple[SourceRow, str], ...]:
    """The guides of an edition without their files, each with the text that words are looked for in."""
    facts: Counter[str] = Counter()
    records: Counter[str] = Counter()
    for one in ages.values():
        facts.update(one.cited)
        records.update(one.cited.keys())
    sources = (source_from_document(json.loads(compiled.source_bytes(key))) for key in compiled.source_keys)
    return tuple(
        (_row(one, facts[one.key], records[one.key]), f"{one.key} {one.title} {one.publisher}") for one in sources
    )


def _row(source: Source, facts: int, records: int) -> SourceRow:
    return SourceRow(
        source.key, source.number, source.issue, source.title, source.kind, source.issued, source.pages,
        source.sha256 or "", facts, records, "",
    )  # fmt: skip


def _order(row: SourceRow, sort: str) -> tuple[object, ...]:
    match sort:
        case "title":
            return (row.title, row.key)
        case "issued":
            return (row.issued, row.key)
        case "facts":
            return (-row.facts, row.key)
    return (row.number, row.issue)
