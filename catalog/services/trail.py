"""The trail of who did what: noted with the act itself, in the same transaction, and read by those who may."""

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection

from catalog.domain.roles import Right, Role
from catalog.domain.trail import TrailEntry
from catalog.errors import BadInput, Forbidden, NotSignedIn
from catalog.services.acting import Actor
from catalog.services.clock import EPOCH, now_us, us_of
from catalog.store import trail as stored
from catalog.store.engine import read, reading_damaged, write
from catalog.store.rows import StoreFault

if TYPE_CHECKING:
    from catalog.services.house import House

JSON = str | int | bool | Sequence[Any] | Mapping[str, Any]

NOBODY = ""  # the actor of what is done before anybody is signed in
PAGE = 50


@dataclass(frozen=True, slots=True)
class TrailPart:
    """One page of the trail, the newest first. actions: every action there is."""

    entries: tuple[TrailEntry, ...]
    total: int
    actions: tuple[str, ...]
    head: str


@dataclass(frozen=True, slots=True)
class TrailAsked:
    """actor, action: exactly these. day: of UTC. All where ""."""

    actor: str = ""
    action: str = ""
    day: str = ""


def note(conn: Connection, actor: Actor, action: str, subject: str, detail: Mapping[str, JSON] | None = None) -> None:
    """Add to the trail what an actor does, inside the transaction that does it. Note last: others wait from here on.

    action: a short verb. detail: what canonical JSON can hold; no person's words that need not be kept.
    """
    note_as(conn, actor.name, actor.via, action, subject, detail)


def note_as(
    conn: Connection, name: str, via: str, action: str, subject: str, detail: Mapping[str, JSON] | None = None
) -> None:
    """The same where nobody is signed in yet: name is NOBODY or the account it is about."""
    said = {"actor": name, "via": via, "action": action, "subject": _nfc(subject), "detail": _nfc(dict(detail or {}))}
    stored.append(conn, said, now_us())


def note_alone(
    house: "House", actor: Actor, action: str, subject: str, detail: Mapping[str, JSON] | None = None
) -> None:
    """In a transaction of its own, for what writes nothing else. Raises Unavailable."""
    with write(house.engine) as conn:
        note(conn, actor, action, subject, detail)


def read_trail(house: "House", actor: Actor | None, asked: TrailAsked, at: int = 1, size: int = PAGE) -> TrailPart:
    """A page of the trail, from 1. Raises NotSignedIn, Forbidden, BadInput, Unavailable."""
    may_read(actor)
    wanted = _wanted(asked)
    with read(house.engine) as conn:
        found = stored.entries(conn, wanted, limit=size, skip=(at - 1) * size)
        return TrailPart(tuple(found), stored.count(conn, wanted), tuple(stored.actions(conn)), stored.head(conn))


def export_trail(house: "House", actor: Actor | None, asked: TrailAsked) -> Iterator[dict[str, Any]]:
    """Every entry from the first on, as documents with their hashes. That it was read out is noted first."""
    reader = may_read(actor)
    wanted = _wanted(asked)
    note_alone(house, reader, "export", "trail")

    def documents() -> Iterator[dict[str, Any]]:
        with read(house.engine) as conn:
            for entry, hash_ in stored.in_order(conn, wanted):
                yield document(entry) | {"hash": hash_}

    return documents()


def check_trail(house: "House", expect: str = "") -> tuple[StoreFault, ...]:
    """What does not hold in the chain. expect: a hash kept elsewhere, which must be in it."""
    with read(house.engine) as conn, reading_damaged(conn):
        found = list(stored.faults(conn))
        if expect and not stored.has_hash(conn, expect.strip().lower()):
            problem = "No entry has this hash: the trail has been rewritten or cut short."
            found.append(StoreFault("trail", expect, 0, problem))
        return tuple(found)


def document(entry: TrailEntry) -> dict[str, Any]:
    """An entry as it is handed out: its time as RFC 3339."""
    time = (EPOCH + timedelta(microseconds=entry.time)).isoformat(timespec="microseconds").replace("+00:00", "Z")
    return {
        "seq": entry.seq, "time": time, "actor": entry.actor, "via": entry.via, "action": entry.action,
        "subject": entry.subject, "detail": dict(entry.detail), "prev": entry.prev,
    }  # fmt: skip


def value_words(value: object) -> str:
    """A detail of an entry in words."""
    match value:
        case bool():
            return "yes" if value else "no"
        case list():
            return ", ".join(map(value_words, value))
        case dict():
            return ", ".join(f"{key} {value_words(inner)}" for key, inner in value.items())
        case _:
            return str(value)


def may_read(actor: Actor | None) -> Actor:
    """Administrators look after the trail; approvers answer for what was published. Raises NotSignedIn, Forbidden."""
    if actor is None:
        raise NotSignedIn("Nobody is signed in, and the trail is read by name.", cure="Sign in.")
    approver = actor.role is Role.APPROVER and Right.APPROVE in actor.rights
    if Right.ADMINISTER not in actor.rights and not approver:
        raise Forbidden(
            f"{actor.name} ({actor.role}) may not read the trail.", cure="Ask an administrator or an approver."
        )
    return actor


def _wanted(asked: TrailAsked) -> stored.Wanted:
    if not asked.day:
        return stored.Wanted(asked.actor, asked.action)
    try:
        day = datetime.strptime(asked.day, "%Y-%m-%d").replace(tzinfo=UTC)
    except ValueError as error:
        raise BadInput(f"day is {asked.day!r}.", cure="Write it as 2026-11-26 (UTC).") from error
    return stored.Wanted(asked.actor, asked.action, us_of(day), us_of(day + timedelta(days=1)))


def _nfc(value: Any) -> Any:
    match value:
        case str():
            return unicodedata.normalize("NFC", value.encode("utf-8", "replace").decode())
        case Mapping():
            return {key: _nfc(inner) for key, inner in value.items()}
        case list() | tuple():
            return [_nfc(inner) for inner in value]
        case _:
            return value
