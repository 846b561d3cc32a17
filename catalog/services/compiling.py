"""From a published edition in the store to the compiled edition that answers are given from."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import Connection

from catalog.compiled import Compiled, EditionInput, RecordInput, build
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.domain.sources import Source, source_from_document
from catalog.domain.upgrade import upgrade
from catalog.errors import IntegrityError, Unavailable
from catalog.resolve.tables import Entry, Tables, build_tables, subtitle
from catalog.search.port import TextDocument
from catalog.services.house import House
from catalog.services.notes import guide_texts, record_text
from catalog.services.views import EditionView
from catalog.store.engine import read
from catalog.store.read import last_listed, latest, members, sequences, withdrawals
from catalog.store.rows import StoredEdition

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def moment(microseconds: int) -> datetime:
    """A stored time as an aware datetime."""
    return EPOCH + timedelta(microseconds=microseconds)


def record_of(document: Mapping[str, Any]) -> Record:
    """A stored document as an object, upgraded to the current format first."""
    return record_from_document(upgrade(dict(document)))


def compile_latest(house: House) -> None:
    """Compile the newest published edition and make it current. Raises Unavailable when there is none."""
    build(house.settings.data / "compiled", lambda: _input(house))


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


def _input(house: House) -> EditionInput:
    with read(house.engine) as conn:
        edition = latest(conn)
        if edition is None:
            raise Unavailable("Nothing has been published yet.", cure="Set up the demo: chockbook demo --no-serve")
        found = list(members(conn, edition.number, "record"))
        sources = [
            (m.key, m.content, source_from_document(m.document)) for m in members(conn, edition.number, "source")
        ]
        gone = [_gone(conn, code, edition.number, why) for code, why in withdrawals(conn, edition.number).items()]
        seqs = sequences(conn, edition.number)
    records = [(member, record_of(member.document)) for member in found]
    tables = build_tables([Entry(member.key, record) for member, record in records])
    return EditionInput(
        number=edition.number,
        hash=edition.hash,
        published_at_us=edition.published_at_us,
        author=edition.author,
        reason=edition.reason,
        records=[RecordInput(m.key, m.revision, seqs[m.key], m.content) for m, _ in records],
        sources=[(key, content) for key, content, _ in sources],
        tables=Tables(tables.arrays, {**tables.meta, "withdrawn": gone}),
        texts=list(_texts([(m.key, record) for m, record in records], [source for *_, source in sources])),
    )


def _gone(conn: Connection, code: str, number: int, reason: str) -> list[str]:
    """[code, title, subtitle, reason]: enough to say "do not use" while the database is away."""
    found = last_listed(conn, code, number)
    if found is None:
        return [code, code, "", reason]
    record = record_of(found.document)
    return [code, record.identity.title, subtitle(record), reason]


def _texts(records: list[tuple[str, Record]], sources: list[Source]) -> Iterator[TextDocument]:
    for code, record in records:
        yield TextDocument("record", code, record.identity.title, None, record_text(record))
    for source in sources:
        yield from guide_texts(source)
