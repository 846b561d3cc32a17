"""From a published edition in the store to the compiled edition that answers are given from."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from catalog.compiled import Compiled, EditionInput, RecordInput, build, wait_for_builder
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.domain.sources import source_from_document
from catalog.domain.upgrade import upgrade
from catalog.errors import IntegrityError, NotFound, Unavailable
from catalog.resolve.rows import Entry, Row, packed, row_of, subtitle, unpacked
from catalog.resolve.tables import Tables, tables_of
from catalog.resolve.tables_amended import RowChange, amended
from catalog.search.notes import NoteChange, Notes
from catalog.search.port import TextDocument
from catalog.services.clock import moment_of
from catalog.services.house import House
from catalog.services.notes import guide_texts, record_text
from catalog.services.views import EditionView
from catalog.store.changes import changes
from catalog.store.doubts import standing_doubts
from catalog.store.engine import read
from catalog.store.read import edition as edition_of
from catalog.store.read import last_listed, latest, members, record_at, sequences, stored_source, withdrawals
from catalog.store.rows import Member, StoredDoubt, StoredEdition


def record_of(document: Mapping[str, Any]) -> Record:
    """A stored document as an object, upgraded to the current format first."""
    return record_from_document(upgrade(dict(document)))


def compile_latest(house: House) -> None:
    """Compile the newest published edition and make it current. Raises Unavailable when there is none."""
    build(house.shelf.root, lambda earlier: _input(house, earlier), house.shelf)
    house.shelf.look()  # whoever published sees it on the next page


def catch_up(house: House) -> None:
    """Have the newest edition: opened as whoever is compiling it now leaves it, else compiled here. Raises Unavailable.

    All who waited open it at the same time, not one after the other under the builder's lock.
    """
    if is_behind(house):
        wait_for_builder(house.shelf.root)
        if is_behind(house):
            compile_latest(house)


def is_behind(house: House) -> bool:
    """Whether the store has another newest edition than the shelf. Cheap enough to ask every second."""
    with read(house.engine) as conn:
        newest = latest(conn)
    if newest is None:
        return False
    try:
        return house.shelf.newest().hash != newest.hash
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
        published_at=moment_of(edition.published_at_us),
        author=edition.author,
        reason=edition.reason,
        records=records,
    )


def _input(house: House, earlier: Compiled | None) -> EditionInput | None:
    """What the newest edition is compiled from; None where this program compiled it already."""
    with read(house.engine) as conn:
        edition = latest(conn)
        if edition is None:
            raise Unavailable("Nothing has been published yet.", cure="Set up the demo: chockbook demo --no-serve")
        if earlier is not None and earlier.hash == edition.hash:
            return None
        parts = _amended(conn, earlier, edition) if earlier is not None else None
        if parts is None:
            parts = _whole(conn, _Known(earlier), edition.number)
        gone = [_gone(conn, code, edition.number, why) for code, why in withdrawals(conn, edition.number).items()]
        doubted = [_doubted(doubt) for doubt in standing_doubts(conn, edition.number)]
    return EditionInput(
        number=edition.number,
        hash=edition.hash,
        published_at_us=edition.published_at_us,
        author=edition.author,
        reason=edition.reason,
        records=parts.records,
        sources=parts.sources,
        rows=parts.rows,
        tables=Tables(parts.tables.arrays, {**parts.tables.meta, "withdrawn": gone, "doubted": doubted}),
        texts=parts.texts,
    )


@dataclass(frozen=True, slots=True)
class _Parts:
    """What the members of an edition give. As in `EditionInput`."""

    records: list[RecordInput]
    sources: list[tuple[str, bytes]]
    rows: list[tuple[str, bytes]]
    tables: Tables
    texts: Sequence[TextDocument] | Notes


def _whole(conn: Connection, known: "_Known", number: int) -> _Parts:
    """From every member."""
    found = list(members(conn, number, "record"))
    sources = list(members(conn, number, "source"))
    seqs = sequences(conn, number)
    derived = [known.record(member) for member in found]
    texts = [known.source(member) for member in sources]
    return _Parts(
        records=[RecordInput(m.key, m.revision, seqs[m.key], m.content) for m in found],
        sources=[(member.key, member.content) for member in sources],
        rows=[(one.row.code, one.stored) for one in derived if one.row is not None],
        tables=tables_of(one.row for one in derived if one.row is not None),
        texts=[note for one in (*derived, *texts) for note in one.notes],
    )


def _amended(conn: Connection, earlier: Compiled, edition: StoredEdition) -> _Parts | None:
    """From what was compiled before and the members that changed since; None where that takes looking at all of them.

    It does where records came or went, or a name changed, or the store is not the one that edition came from.
    """
    before = edition_of(conn, earlier.number)
    if before is None or before.hash != earlier.hash or before.number >= edition.number:
        return None
    differs = changes(conn, before.number, edition.number)
    if any(change.kind == "record" and (change.old is None or change.new is None) for change in differs):
        return None
    changed = {change.key: record_at(conn, change.key, edition.number) for change in differs if change.kind == "record"}
    sources = {change.key: stored_source(conn, change.key) for change in differs if change.kind == "source"}
    gone = {change.key for change in differs if change.kind == "source" and change.new is None}
    fresh: dict[str, _Derived] = {}
    for code, stored in changed.items():
        assert stored is not None  # listed in this edition
        member = Member("record", code, stored.hash, stored.content, stored.content_hash)
        fresh[code] = _of_record(member)
    rows = [RowChange(unpacked(earlier.row_bytes(code)), one.row) for code, one in fresh.items() if one.row is not None]
    tables = amended(earlier.tables, rows)
    if tables is None:
        return None
    listed = {key: earlier.source_bytes(key) for key in earlier.source_keys}
    given = {key: member for key, member in sources.items() if member is not None and key not in gone}
    listed |= {key: member.content for key, member in given.items()}
    notes = [note for one in (*fresh.values(), *map(_of_source, given.values())) for note in one.notes]
    touched = frozenset({*(("record", code) for code in changed), *(("guide", key) for key in sources)})
    return _Parts(
        records=[
            RecordInput(code, stored.hash, stored.seq, stored.content)
            if (stored := changed.get(code))
            else RecordInput(code, *earlier.revision(code), earlier.record_bytes(code))
            for code in earlier.codes
        ],
        sources=[(key, content) for key, content in listed.items() if key not in gone],
        rows=[(code, fresh[code].stored if code in fresh else earlier.row_bytes(code)) for code in earlier.codes],
        tables=tables,
        texts=earlier.text.changed(NoteChange(touched, notes)),
    )


def _doubted(doubt: StoredDoubt) -> list[Any]:
    """[code, path, edition, revision, time, author, reason]: what is said beside a doubted fact without a database."""
    return [doubt.code, doubt.path, doubt.edition, doubt.revision, doubt.time_us, doubt.author, doubt.reason]


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
