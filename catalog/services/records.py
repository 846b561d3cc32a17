"""One record as it stood in an edition, its history, the list of all."""

import json
from collections.abc import Iterable, Mapping
from datetime import datetime

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.domain import codes
from catalog.domain.canonical import parse_canonical
from catalog.domain.delta import RecordDelta, difference
from catalog.domain.documents import references
from catalog.domain.record import Record
from catalog.domain.sources import Source, parse_reference, source_from_document
from catalog.errors import BadInput, NotFound, Unavailable
from catalog.resolve.rows import subtitle
from catalog.services.clock import moment_of, us_of
from catalog.services.compiling import edition_view, record_of, stored_edition_view
from catalog.services.doubts import doubts_at, doubts_in
from catalog.services.house import House
from catalog.services.views import EditionView, RecordSummary, RecordView, RevisionView
from catalog.store import read as store
from catalog.store.engine import read
from catalog.store.rows import RevisionHistory, StoredRevision

ANY_VEHICLE = "Go by the steps for any vehicle."


def read_record(house: House, code: str, *, edition: int | None = None, at: datetime | None = None) -> RecordView:
    """A record in the current edition, in edition n, or as the catalogue said at a time.

    code: in any spelling. at: aware. A withdrawn record comes with the reason. The current
    edition is read from its files, so it stays readable while the database is away. Raises
    BadInput, NotFound, Unavailable.
    """
    known = parsed_code(code)
    _check_asked(edition, at)
    compiled = house.shelf.current()
    if at is None and edition in (None, compiled.number) and known in compiled.codes:
        return _from_compiled(compiled, known)
    try:
        with read(house.engine) as conn:
            return _from_store(conn, known, _edition(conn, compiled, edition, at), compiled.number)
    except Unavailable as error:
        raise _still_said(compiled, known, error) from error


def listed_record(house: House, code: str) -> Record:
    """What a listed record says now, without its sources and doubts. Raises NotFound."""
    return record_of(json.loads(house.shelf.current().record_bytes(code)))


def _still_said(compiled: Compiled, code: str, error: Unavailable) -> Unavailable:
    """What must be said of a withdrawn record even while the database is away."""
    reason = _why_withdrawn(compiled, code)
    return error if reason is None else Unavailable(f"DO NOT USE {code}: {reason}", cure=ANY_VEHICLE)


def not_listed(compiled: Compiled, code: str, cure: str) -> NotFound:
    """What is said of a record that the compiled edition does not list, above all that it was withdrawn and why."""
    reason = _why_withdrawn(compiled, code)
    if reason is None:
        return NotFound(f"There is no record {code} in this edition.", cure=cure)
    return NotFound(f"DO NOT USE {code}: {reason}", cure=ANY_VEHICLE)


def _why_withdrawn(compiled: Compiled, code: str) -> str | None:
    reasons: Mapping[str, str] = {gone[0]: gone[3] for gone in compiled.tables.meta["withdrawn"]}
    return reasons.get(code)


def record_history(house: House, code: str) -> tuple[RevisionView, ...]:
    """Every revision of a record, newest first, with what each changed. Raises BadInput, NotFound."""
    return history_part(house, code, 0, None)[0]


def history_part(house: House, code: str, offset: int, limit: int | None) -> tuple[tuple[RevisionView, ...], int]:
    """Some of its revisions, newest first, and how many there are; only these are compared. Raises NotFound."""
    known = parsed_code(code)
    with read(house.engine) as conn:
        found = store.history(conn, known)
    if not found:
        raise _no_record(known)
    end = max(0, len(found) - offset)
    start = 0 if limit is None else max(0, end - limit)
    views = []
    old = record_of(found[start - 1].revision.document) if start else None
    for one in found[start:end]:
        new = record_of(one.revision.document)
        views.append(_revision_view(one, difference(old, new)))
        old = new
    return tuple(reversed(views)), len(found)


def list_records(house: House, *, edition: int | None = None) -> tuple[RecordSummary, ...]:
    """Every record of an edition by code, the withdrawn ones of it last. Raises NotFound.

    The current edition needs no database.
    """
    compiled = house.shelf.current()
    if edition in (None, compiled.number):
        meta = compiled.tables.meta
        rows = zip(meta["codes"], meta["titles"], meta["subtitles"], strict=True)
        gone = (RecordSummary(code, title, line, reason) for code, title, line, reason in meta["withdrawn"])
        return (*(RecordSummary(*row) for row in rows), *gone)
    with read(house.engine) as conn:
        number = _edition(conn, compiled, edition, None).number
        listed = [_summary(m.key, m.content, "") for m in store.members(conn, number, "record")]
        return (*listed, *_withdrawn(conn, store.withdrawals(conn, number), number))


def named_edition(house: House, edition: int | None, at: datetime | None) -> EditionView:
    """The edition asked for by number or by an aware time; else the current one. Raises BadInput, NotFound."""
    _check_asked(edition, at)
    compiled = house.shelf.current()
    if at is None and edition in (None, compiled.number):
        return edition_view(compiled)
    with read(house.engine) as conn:
        return _edition(conn, compiled, edition, at)


def _check_asked(edition: int | None, at: datetime | None) -> None:
    if edition is not None and at is not None:
        raise BadInput("edition and at are both given.", cure="Leave one of them out.")
    if at is not None and at.tzinfo is None:
        raise BadInput("The time has no offset.", cure="Write it as RFC 3339, such as 2026-03-01T09:00:00Z.")


def withdrawn_records(conn: Connection, number: int) -> Iterable[RecordSummary]:
    """The records an edition says must not be used, with the reason."""
    return _withdrawn(conn, store.withdrawals(conn, number), number)


def read_source(house: House, key: str) -> Source:
    """A source document by "NUMBER/ISSUE". Raises NotFound."""
    compiled = house.shelf.current()
    if key in compiled.source_keys:
        return source_from_document(json.loads(compiled.source_bytes(key)))
    with read(house.engine) as conn:
        stored = store.stored_source(conn, key)
    if stored is None:
        raise NotFound(f"There is no source {key}.", cure="Write it as NUMBER/ISSUE, as a record cites it.")
    return source_from_document(stored.document)


def parsed_code(code: str) -> str:
    """The code as it is stored. Raises NotFound for what cannot be a code."""
    known = codes.parse(code)
    if known is None:
        raise NotFound(f"{code!r} is not a record code.", cure="Check the code: six characters, the last is a check.")
    return known


def _from_compiled(compiled: Compiled, code: str) -> RecordView:
    document = parse_canonical(compiled.record_bytes(code))
    digest, seq = compiled.revision(code)
    sources = {key: source_from_document(json.loads(compiled.source_bytes(key))) for key in _cited(document)}
    view = edition_view(compiled)
    record, doubts = record_of(document), doubts_in(compiled, code)
    return RecordView(code, view, compiled.number, seq, digest, record, document, sources, doubts=doubts)


def _from_store(conn: Connection, code: str, edition: EditionView, newest: int) -> RecordView:
    found = store.record_at(conn, code, edition.number)
    reason = ""
    if found is None:
        found = store.last_listed(conn, code, edition.number)
        reason = store.withdrawal(conn, code, edition.number) or ""
    if found is None:
        raise _no_record(code, edition.number)
    sources = {
        key: source_from_document(stored.document)
        for key in _cited(found.document)
        if (stored := store.stored_source(conn, key)) is not None
    }
    record = record_of(found.document)
    doubts = () if reason else doubts_at(conn, code, edition.number)
    return RecordView(code, edition, newest, found.seq, found.hash, record, found.document, sources, reason, doubts)


def _edition(conn: Connection, compiled: Compiled, number: int | None, at: datetime | None) -> EditionView:
    if at is not None:
        found = store.edition_at(conn, us_of(at))
        if found is None:
            raise NotFound(f"Nothing was published at {at.isoformat()}.", cure="List the editions and their times.")
    else:
        found = store.edition(conn, compiled.number if number is None else number)
        if found is None:
            raise NotFound(f"There is no edition {number}.", cure=f"The newest edition is {compiled.number}.")
    return stored_edition_view(found, store.record_count(conn, found.number))


def _cited(document: Mapping[str, object]) -> Iterable[str]:
    return dict.fromkeys(parse_reference(text).key for text in references(document))


def _revision_view(one: RevisionHistory, changes: RecordDelta) -> RevisionView:
    stored = one.revision
    return RevisionView(
        code=stored.code,
        seq=stored.seq,
        hash=stored.hash,
        prev=stored.prev,
        author=stored.author,
        time=moment_of(stored.time_us),
        reason=stored.reason,
        editions=tuple((interval.from_edition, interval.to_edition) for interval in one.listed),
        changes=changes,
    )


def _withdrawn(conn: Connection, gone: Mapping[str, str], number: int) -> Iterable[RecordSummary]:
    for code, reason in gone.items():
        found: StoredRevision | None = store.last_listed(conn, code, number)
        if found is not None:
            yield _summary(code, found.content, reason)


def _summary(code: str, content: bytes, withdrawn: str) -> RecordSummary:
    record = record_of(parse_canonical(content))
    return RecordSummary(code, record.identity.title, subtitle(record), withdrawn)


def _no_record(code: str, edition: int | None = None) -> NotFound:
    where = "" if edition is None else f" in edition {edition}"
    return NotFound(f"There is no record {code}{where}.", cure="Search by description, or list the records.")
