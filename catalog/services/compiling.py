"""From a published edition in the store to the compiled edition that answers are given from."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import Connection

from catalog.compiled import Compiled, EditionInput, RecordInput, build
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.domain.sources import source_from_document
from catalog.domain.upgrade import upgrade
from catalog.errors import IntegrityError, NotFound, Unavailable
from catalog.resolve.rows import Entry, Row, packed, row_of, subtitle, unpacked
from catalog.resolve.tables import Tables, tables_of
from catalog.search.port import TextDocument
from catalog.services.house import House
from catalog.services.notes import guide_texts, record_text
from catalog.services.views import EditionView
from catalog.store.engine import read
from catalog.store.read import last_listed, latest, members, sequences, withdrawals
from catalog.store.rows import Member, StoredEdition

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def moment(microseconds: int) -> datetime:
    """A stored time as an aware datetime."""
    return EPOCH + timedelta(microseconds=microseconds)


def record_of(document: Mapping[str, Any]) -> Record:
    """A stored document as an object, upgraded to the current format first."""
    return record_from_document(upgrade(dict(document)))


def compile_latest(house: House) -> None:
    """Compile the newest published edition and make it current. Raises Unavailable when there is none."""
    build(house.settings.data / "compiled", lambda earlier: _input(house, earlier))


def is_behind(house: House) -> bool:
    """Whether the store has another newest edition than the shelf. Cheap enough to ask every second."""
    with read(house.engine) as conn:
        newest = latest(conn)
    if newest is None:
        return False
    try:
        return house.shelf.current().hash != newest.hash
    except (Unavailable, IntegrityError):
        return True


def edition_view(compiled: Compiled) -> EditionView:
    """The edition an answer comes from."""
    return EditionView(
        number=compiled.number,
        hash=compiled.hash,
        published_at=compiled.published_at,
        author=compiled.author,
        reason=compiled.reason,
        records=len(compiled.codes),
    )


def stored_edition_view(edition: StoredEdition, records: int) -> EditionView:
    """An edition as the store holds it."""
    return EditionView(
        number=edition.number,
        hash=edition.hash,
        published_at=moment(edition.published_at_us),
        author=edition.author,
        reason=edition.reason,
        records=records,
    )


def _input(house: House, earlier: Compiled | None) -> EditionInput:
    known = _Known(earlier)
    with read(house.engine) as conn:
        edition = latest(conn)
        if edition is None:
            raise Unavailable("Nothing has been published yet.", cure="Set up the demo: chockbook demo --no-serve")
        found = list(members(conn, edition.number, "record"))
        sources = list(members(conn, edition.number, "source"))
        gone = [_gone(conn, code, edition.number, why) for code, why in withdrawals(conn, edition.number).items()]
        seqs = sequences(conn, edition.number)
    derived = [known.record(member) for member in found]
    texts = [known.source(member) for member in sources]
    tables = tables_of(one.row for one in derived if one.row is not None)
    return EditionInput(
        number=edition.number,
        hash=edition.hash,
        published_at_us=edition.published_at_us,
        author=edition.author,
        reason=edition.reason,
        records=[RecordInput(m.key, m.revision, seqs[m.key], m.content) for m in found],
        sources=[(member.key, member.content) for member in sources],
        rows=[(one.row.code, one.stored) for one in derived if one.row is not None],
        tables=Tables(tables.arrays, {**tables.meta, "withdrawn": gone}),
        texts=[note for one in (*derived, *texts) for note in one.notes],
    )


def _gone(conn: Connection, code: str, number: int, reason: str) -> list[str]:
    """[code, title, subtitle, reason]: enough to say "do not use" while the database is away."""
    found = last_listed(conn, code, number)
    if found is None:
        return [code, code, "", reason]
    record = record_of(found.document)
    return [code, record.identity.title, subtitle(record), reason]


@dataclass(frozen=True, slots=True)
class _Derived:
    """What a member gives: its notes and, of a record, its row, also packed."""

    notes: Sequence[TextDocument]
    row: Row | None = None
    stored: bytes = b""


def _of_record(member: Member) -> _Derived:
    record = record_of(member.document)
    note = TextDocument("record", member.key, record.identity.title, None, record_text(record))
    row = row_of(Entry(member.key, record))
    return _Derived((note,), row, packed(row))


def _of_source(member: Member) -> _Derived:
    return _Derived(tuple(guide_texts(source_from_document(member.document))))


class _Known:
    """What an earlier edition's members gave. Derived anew from equal content it would be the same."""

    def __init__(self, earlier: Compiled | None) -> None:
        self._earlier = earlier
        self._notes: dict[tuple[str, str], list[TextDocument]] = {}
        for note in earlier.text.notes() if earlier else ():
            self._notes.setdefault((note.kind, note.key), []).append(note)

    def record(self, member: Member) -> _Derived:
        """What a record gives."""
        if self._earlier is None or not self._same(member, self._earlier.record_bytes):
            return _of_record(member)
        stored = self._earlier.row_bytes(member.key)
        return _Derived(self._notes.get(("record", member.key), ()), unpacked(stored), stored)

    def source(self, member: Member) -> _Derived:
        """What a source gives."""
        if self._earlier is None or not self._same(member, self._earlier.source_bytes):
            return _of_source(member)
        return _Derived(self._notes.get(("guide", member.key), ()))

    @staticmethod
    def _same(member: Member, stored: Callable[[str], bytes]) -> bool:
        try:
            return stored(member.key) == member.content
        except NotFound:
            return False
