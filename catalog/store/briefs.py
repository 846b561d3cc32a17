"""Briefs as they are kept: written once with their vehicles and a link; what became of them is added beside.

Call the writers inside `engine.write`, the others inside `engine.read`. Times are UTC microseconds.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from typing import Any

from sqlalchemy import Connection, Row, Select, func, insert, select

from catalog.domain.canonical import canonical_bytes, parse_canonical
from catalog.errors import Conflict, IntegrityError
from catalog.store import tables_briefs as t
from catalog.store.adding import inserting
from catalog.store.rows import document_of


@dataclass(frozen=True, slots=True)
class StoredBrief:
    """A row of `briefs`. content: canonical JSON, hash beside it. number: 0 before it is stored."""

    id: str
    incident: str
    letter: str
    number: int
    kind: str
    corrects: str | None
    edition: int
    rules: str
    composed_us: int
    composed_by: str
    via: str
    content: bytes
    content_hash: str
    key_hash: str | None = None
    body_mac: str | None = None

    @property
    def document(self) -> dict[str, Any]:
        """What was composed. Raises IntegrityError."""
        return document_of(self.content, self.content_hash, f"brief {self.id}")


@dataclass(frozen=True, slots=True)
class StoredLink:
    """A row of `brief_links`. token_hash: SHA-256 of the token, hex."""

    token_hash: str
    brief: str
    made_us: int
    made_by: str
    expires_us: int


@dataclass(frozen=True, slots=True)
class StoredEvent:
    """A row of `brief_events`. said_by: None for an opening."""

    id: str
    brief: str
    kind: str
    time_us: int
    said_by: str | None
    detail: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AboutRecord:
    """A vehicle a brief may be about."""

    code: str
    revision: str


def add_brief(conn: Connection, brief: StoredBrief, about: Sequence[AboutRecord]) -> StoredBrief:
    """Store it with the next number of its incident and letter, opening the incident if there is none.

    One sent again under the same key is answered with the stored one; another under that key raises Conflict.
    """
    there = _by_key(conn, brief)
    if there is not None:
        return there
    _hold_incident(conn, brief)
    there = _by_key(conn, brief)  # another sending of it came between
    if there is not None:
        return there
    counted = select(func.coalesce(func.max(t.briefs.c.number), 0) + 1).where(
        t.briefs.c.incident == brief.incident, t.briefs.c.letter == brief.letter
    )
    row = {**asdict(brief), "number": int(conn.execute(counted).scalar_one())}
    adding = inserting(conn, t.briefs).on_conflict_do_nothing(index_elements=["key_hash"]).returning(t.briefs.c.id)
    if conn.execute(adding, row).first() is None:  # the same key with another incident, at the same time
        there = _by_key(conn, brief)
        assert there is not None
        return there
    if about:
        conn.execute(insert(t.brief_records), [{"brief": brief.id, **asdict(one)} for one in about])
    return StoredBrief(**row)


def add_link(conn: Connection, link: StoredLink) -> None:
    """Store a link."""
    conn.execute(insert(t.brief_links), asdict(link))


def add_event(conn: Connection, event: StoredEvent) -> None:
    """Store what became of a brief. A second recall of one raises Conflict."""
    if event.kind == t.RECALLED:
        # Two at the same time: the second waits here, and then sees the first.
        conn.execute(_locking(conn, select(t.briefs.c.id).where(t.briefs.c.id == event.brief)))
        if any(told.kind == t.RECALLED for told in events_of(conn, event.brief)):
            raise Conflict(f"Brief {event.brief} has been recalled already.", cure="Look at it again.")
    conn.execute(insert(t.brief_events), _packed(event))


def add_openings(conn: Connection, openings: Sequence[StoredEvent]) -> int:
    """Store openings, those that are there already left alone, and those of no brief too; how many were new."""
    if not openings:
        return 0
    ids = {one.id: one for one in openings}
    there = set(conn.scalars(select(t.brief_events.c.id).where(t.brief_events.c.id.in_(sorted(ids)))))
    known = set(conn.scalars(select(t.briefs.c.id).where(t.briefs.c.id.in_({one.brief for one in openings}))))
    rows = [_packed(one) for id_, one in sorted(ids.items()) if id_ not in there and one.brief in known]
    if rows:
        conn.execute(inserting(conn, t.brief_events).on_conflict_do_nothing(index_elements=["id"]), rows)
    return len(rows)


def brief_at(conn: Connection, id_: str) -> StoredBrief | None:
    """One brief by its id."""
    return _one(conn, select(t.briefs).where(t.briefs.c.id == id_))


def brief_by_link(conn: Connection, token_hash: str) -> tuple[StoredBrief, StoredLink] | None:
    """The brief behind a link, expired or not."""
    row = conn.execute(select(t.brief_links).where(t.brief_links.c.token_hash == token_hash)).first()
    if row is None:
        return None
    link = StoredLink(**row._mapping)
    found = brief_at(conn, link.brief)
    return None if found is None else (found, link)


def briefs_between(conn: Connection, from_us: int, to_us: int, limit: int) -> tuple[StoredBrief, ...]:
    """Briefs composed from one time up to, not including, another; the newest first."""
    within = (t.briefs.c.composed_us >= from_us, t.briefs.c.composed_us < to_us)
    newest = t.briefs.c.composed_us.desc(), t.briefs.c.id
    return _many(conn, select(t.briefs).where(*within).order_by(*newest).limit(limit))


def briefs_of_incident(conn: Connection, incident: str) -> tuple[StoredBrief, ...]:
    """Every brief of an incident, by letter and number."""
    found = select(t.briefs).where(t.briefs.c.incident == incident)
    return _many(conn, found.order_by(t.briefs.c.letter, t.briefs.c.number))


def corrections_of(conn: Connection, id_: str) -> tuple[StoredBrief, ...]:
    """What was composed to follow a brief, first to last."""
    found = select(t.briefs).where(t.briefs.c.corrects == id_)
    return _many(conn, found.order_by(t.briefs.c.composed_us, t.briefs.c.id))


def incident_opened(conn: Connection, incident: str) -> tuple[int, str] | None:
    """When an incident was opened, and by whom; None where there is none."""
    row = conn.execute(select(t.incidents).where(t.incidents.c.id == incident)).first()
    return None if row is None else (row.opened_us, row.opened_by)


def briefs_about(conn: Connection, code: str, revisions: Collection[str] | None = None) -> Iterator[StoredBrief]:
    """Every brief that may be about a record, the newest first. revisions: hashes, of one of which it was made."""
    about = select(t.brief_records.c.brief).where(t.brief_records.c.code == code)
    if revisions is not None:
        about = about.where(t.brief_records.c.revision.in_(sorted(revisions)))
    newest = t.briefs.c.composed_us.desc(), t.briefs.c.id
    for row in conn.execute(select(t.briefs).where(t.briefs.c.id.in_(about)).order_by(*newest)):
        yield StoredBrief(**row._mapping)


def events_of(conn: Connection, id_: str) -> tuple[StoredEvent, ...]:
    """What became of a brief, first to last."""
    found = select(t.brief_events).where(t.brief_events.c.brief == id_)
    return tuple(_event(row) for row in conn.execute(found.order_by(t.brief_events.c.time_us, t.brief_events.c.id)))


def _by_key(conn: Connection, brief: StoredBrief) -> StoredBrief | None:
    if brief.key_hash is None:
        return None
    there = _one(conn, select(t.briefs).where(t.briefs.c.key_hash == brief.key_hash))
    if there is not None and there.body_mac != brief.body_mac:
        raise Conflict(
            "Another brief was asked for under this key.",
            cure="Give each request a key of its own, and repeat it unchanged.",
        )
    return there


def _hold_incident(conn: Connection, brief: StoredBrief) -> None:
    """Open the incident if there is none, and have whoever else adds to it wait."""
    there = select(t.incidents.c.id).where(t.incidents.c.id == brief.incident)
    if conn.execute(there).first() is None:
        row = {"id": brief.incident, "opened_us": brief.composed_us, "opened_by": brief.composed_by}
        conn.execute(inserting(conn, t.incidents).on_conflict_do_nothing(index_elements=["id"]), row)
    conn.execute(_locking(conn, there))


def _locking(conn: Connection, statement: Select[Any]) -> Select[Any]:
    # SQLite has one writer at a time anyhow.
    return statement.with_for_update() if conn.dialect.name == "postgresql" else statement


def _one(conn: Connection, statement: Select[Any]) -> StoredBrief | None:
    row = conn.execute(statement).first()
    return None if row is None else StoredBrief(**row._mapping)


def _many(conn: Connection, statement: Select[Any]) -> tuple[StoredBrief, ...]:
    return tuple(StoredBrief(**row._mapping) for row in conn.execute(statement))


def _packed(event: StoredEvent) -> dict[str, Any]:
    return {**asdict(event), "detail": canonical_bytes(dict(event.detail))}


def _event(row: Row[Any]) -> StoredEvent:
    values = dict(row._mapping)
    detail = parse_canonical(values.pop("detail"))
    if not isinstance(detail, dict):
        raise IntegrityError(f"What became of brief {row.brief} cannot be read.", cure="Run chockbook verify.")
    return StoredEvent(**values, detail=detail)
