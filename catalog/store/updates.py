"""Guide updates and what was decided of them: written once, never changed.

Call inside `engine.write` to add, `engine.read` to look. Documents, files and cells are stored compressed.
"""

import json
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from itertools import starmap
from typing import Any

from sqlalchemy import Connection, Row, Select, and_, func, insert, select

from catalog.domain.canonical import canonical_bytes
from catalog.store.tables import RECORD, listings
from catalog.store.tables_updates import PUBLISH, REOPEN, SET_ASIDE, update_decisions, update_records, updates

Document = Mapping[str, Any]
_BATCH = 500


@dataclass(frozen=True, slots=True)
class StoredUpdate:
    """A row of `updates` without its file. edition: None in an empty catalogue."""

    number: int
    name: str
    origin: str
    author: str
    time_us: int
    edition: int | None
    file_hash: str
    records: int


@dataclass(frozen=True, slots=True)
class StoredChange:
    """What an update says of one record. document: None: do not use. See `update_records`."""

    code: str
    place: int
    title: str
    action: str
    base: str
    document: Document | None
    content_hash: str
    reason: str
    cells: Mapping[str, str]
    changes: int
    critical: int
    less: int
    more: int


@dataclass(frozen=True, slots=True)
class StoredDecision:
    """A row of `update_decisions`."""

    number: int
    seq: int
    kind: str
    code: str | None
    path: str | None
    of: str | None
    author: str
    time_us: int
    words: str
    content: Any = None


@dataclass(frozen=True, slots=True)
class NewUpdate:
    """What `add_update` stores. sources: documents by "NUMBER/ISSUE"."""

    digest: str
    name: str
    origin: str
    author: str
    time_us: int
    edition: int | None
    file_hash: str
    file: bytes
    sources: Mapping[str, Document]
    findings: Sequence[Mapping[str, Any]]


def pack(value: Any) -> bytes:
    """Canonical JSON, compressed."""
    return zlib.compress(canonical_bytes(value), 6)


def unpack(stored: bytes) -> Any:
    """What `pack` stored."""
    return json.loads(zlib.decompress(stored))


def add_update(conn: Connection, update: NewUpdate, records: Sequence[Mapping[str, Any]]) -> int:
    """Store it; its number. records: rows of `update_records` without the number. Call with the publication lock."""
    number = int(conn.execute(select(func.coalesce(func.max(updates.c.number), 0) + 1)).scalar_one())
    row = asdict(update) | {
        "number": number,
        "file": zlib.compress(update.file, 6),
        "sources": pack(dict(update.sources)),
        "findings": pack([dict(one) for one in update.findings]),
        "records": len(records),
    }
    conn.execute(insert(updates), row)
    if records:
        conn.execute(insert(update_records), [{**one, "number": number} for one in records])
    return number


def update_by_digest(conn: Connection, digest: str) -> int | None:
    """The number of the update that brought exactly this."""
    number = conn.execute(select(updates.c.number).where(updates.c.digest == digest)).scalar()
    return None if number is None else int(number)


def lock_update(conn: Connection, number: int) -> StoredUpdate | None:
    """The update, which nobody else decides of until the transaction ends."""
    row = conn.execute(_update().where(updates.c.number == number).with_for_update()).first()
    return None if row is None else _update_of(row)


def update(conn: Connection, number: int) -> StoredUpdate | None:
    """One update."""
    row = conn.execute(_update().where(updates.c.number == number)).first()
    return None if row is None else _update_of(row)


def update_file(conn: Connection, number: int) -> bytes:
    """The file's bytes as they were brought."""
    return zlib.decompress(conn.execute(select(updates.c.file).where(updates.c.number == number)).scalar_one())


def update_sources(conn: Connection, number: int) -> dict[str, dict[str, Any]]:
    """The sources an update brought, by "NUMBER/ISSUE"."""
    made: dict[str, dict[str, Any]] = unpack(
        conn.execute(select(updates.c.sources).where(updates.c.number == number)).scalar_one()
    )
    return made


def packed_findings(conn: Connection, number: int) -> bytes:
    """What was found in its file, as stored: see `unpack`."""
    return bytes(conn.execute(select(updates.c.findings).where(updates.c.number == number)).scalar_one())


@dataclass(frozen=True, slots=True)
class UpdateLine:
    """An update in a list. state: open, published or set aside. edition: last one published with some of it."""

    update: StoredUpdate
    state: str
    edition: int | None
    critical: int
    less: int


OPEN, PUBLISHED, ASIDE = STATES = ("open", "published", "set aside")


def update_lines(conn: Connection, number: int | None = None) -> tuple[UpdateLine, ...]:
    """Every update, newest first, with how it stands; or the one of a number. Three statements whatever there is."""
    r = update_records.c
    summed = select(r.number, func.sum(r.critical).label("critical"), func.sum(r.less).label("less")).group_by(r.number)
    told = _update().order_by(updates.c.number.desc())
    if number is not None:
        summed, told = summed.where(r.number == number), told.where(updates.c.number == number)
    counts = {row.number: (int(row.critical), int(row.less)) for row in conn.execute(summed)}
    standing = _standing(conn, number)
    made = []
    for row in conn.execute(told):
        state, edition = standing.get(row.number, (OPEN, None))
        critical, less = counts.get(row.number, (0, 0))
        made.append(UpdateLine(_update_of(row), state, edition, critical, less))
    return tuple(made)


def standing_of(conn: Connection, number: int) -> tuple[str, int | None]:
    """(state, the edition last published with some of it)."""
    return _standing(conn, number).get(number, (OPEN, None))


def _standing(conn: Connection, number: int | None = None) -> dict[int, tuple[str, int | None]]:
    last = select(update_decisions.c.number, func.max(update_decisions.c.seq).label("seq")).where(
        update_decisions.c.code.is_(None), update_decisions.c.kind.in_((SET_ASIDE, REOPEN, PUBLISH))
    )
    if number is not None:
        last = last.where(update_decisions.c.number == number)
    newest = last.group_by(update_decisions.c.number).subquery()
    same = and_(update_decisions.c.number == newest.c.number, update_decisions.c.seq == newest.c.seq)
    made: dict[int, tuple[str, int | None]] = {}
    for row in conn.execute(select(update_decisions).join(newest, same)):
        told = unpack(row.content) if row.content else {}
        state = {SET_ASIDE: ASIDE, REOPEN: OPEN}.get(row.kind) or (PUBLISHED if told.get("all") else OPEN)
        made[row.number] = (state, told.get("edition"))
    return made


def add_decision(conn: Connection, decision: StoredDecision) -> None:
    """Store one. Call after `lock_update`."""
    add_decisions(conn, [decision])


def add_decisions(conn: Connection, made: Iterable[StoredDecision]) -> None:
    """Store many at once. Call after `lock_update`."""
    rows = [{**asdict(one), "content": None if one.content is None else pack(one.content)} for one in made]
    if rows:
        conn.execute(insert(update_decisions), rows)


def next_seq(conn: Connection, number: int) -> int:
    """The number of the next decision of an update. Call after `lock_update`."""
    found = select(func.coalesce(func.max(update_decisions.c.seq), 0) + 1).where(update_decisions.c.number == number)
    return int(conn.execute(found).scalar_one())


def decided_since(conn: Connection, number: int, seq: int) -> tuple[str, ...]:
    """Codes of the records of an update that something was decided of, a decision's number or a later one."""
    d = update_decisions.c
    return tuple(conn.scalars(select(d.code).distinct().where(d.number == number, d.seq >= seq, d.code.is_not(None))))


def remarks(conn: Connection, number: int) -> Iterator[StoredDecision]:
    """What was decided and said of an update as a whole, first to last."""
    d = update_decisions.c
    return _decisions(conn, select(update_decisions).where(d.number == number, d.code.is_(None)))


def decisions(conn: Connection, number: int, code: str | None = None) -> Iterator[StoredDecision]:
    """What was decided of an update, or of one record in it, first to last."""
    found = select(update_decisions).where(update_decisions.c.number == number)
    if code is not None:
        found = found.where(update_decisions.c.code == code)
    return _decisions(conn, found)


def _decisions(conn: Connection, found: Select[Any]) -> Iterator[StoredDecision]:
    for row in conn.execute(found.order_by(update_decisions.c.seq)):
        values = dict(row._mapping)
        values["content"] = None if row.content is None else unpack(row.content)
        yield StoredDecision(**values)


def changes_of(conn: Connection, number: int, codes: Sequence[str] | None = None) -> Iterator[StoredChange]:
    """What an update says, record by record, most pressing first; streams."""
    found = select(update_records).where(update_records.c.number == number)
    if codes is not None:
        found = found.where(update_records.c.code.in_(codes))
    with conn.execute(found.order_by(update_records.c.place), execution_options={"yield_per": _BATCH}) as rows:
        for row in rows:
            values = dict(row._mapping)
            del values["number"]
            values["document"] = None if row.document is None else unpack(row.document)
            values["cells"] = unpack(row.cells)
            yield StoredChange(**values)


def documents_of(conn: Connection, number: int) -> Iterator[tuple[str, bytes]]:
    """(code, document as canonical JSON) of what an update brings, most pressing first; streams."""
    r = update_records.c
    found = select(r.code, r.document).where(r.number == number, r.document.is_not(None)).order_by(r.place)
    with conn.execute(found, execution_options={"yield_per": _BATCH}) as rows:
        for code, document in rows:
            yield code, zlib.decompress(document)


def codes_in(conn: Connection, number: int, codes: Sequence[str]) -> Iterator[str]:
    """Which of some records an update says something of."""
    r = update_records.c
    yield from conn.scalars(select(r.code).where(r.number == number, r.code.in_(codes)))


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """A record of an update without its document. withdrawn: it has none, which is do not use. listed: the revision
    listed now; None where it is not."""

    code: str
    place: int
    title: str
    action: str
    base: str
    content_hash: str
    changes: int
    critical: int
    less: int
    more: int
    reason: str
    withdrawn: bool
    listed: str | None


def change_lines(conn: Connection, number: int, codes: Sequence[str] | None = None) -> list[ChangeLine]:
    """Every record of an update, or some by code, most pressing first, and what is listed of it now."""
    r = update_records.c
    told = (
        r.code, r.place, r.title, r.action, r.base, r.content_hash, r.changes, r.critical, r.less, r.more, r.reason,
        r.document.is_(None).label("withdrawn"),
    )  # fmt: skip
    now = and_(listings.c.kind == RECORD, listings.c.key == r.code, listings.c.to_edition.is_(None))
    found: Select[Any] = (
        select(*told, listings.c.revision.label("listed"))
        .outerjoin_from(update_records, listings, now)
        .where(r.number == number)
        .order_by(r.place)
    )
    if codes is not None:
        found = found.where(r.code.in_(codes))
    return list(starmap(ChangeLine, conn.execute(found)))


def _update() -> Select[Any]:
    c = updates.c
    return select(c.number, c.name, c.origin, c.author, c.time_us, c.edition, c.file_hash, c.records)


def _update_of(row: Row[Any]) -> StoredUpdate:
    return StoredUpdate(**row._mapping)
