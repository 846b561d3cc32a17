"""The steward's work list: what crews report, what is asked for and not found, words nobody reads, what grows old.

An entry is found anew each time from where it comes from; only what was decided of it is kept. Each can become a draft
change, which names where it came from, and is closed with a reason.
"""

import hashlib
import secrets
from dataclasses import dataclass, replace

from catalog.domain.roles import Right
from catalog.errors import BadInput, Conflict, NotFound
from catalog.services.acting import Actor, require
from catalog.services.clock import now_us
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.proposing import Proposed, ProposedRecord, propose
from catalog.services.records import parsed_code
from catalog.services.trail import note
from catalog.services.work_entries import (
    CLOSED_STATE,
    CUES,
    DRAFT_STATE,
    KINDS,
    OPEN_STATE,
    REPORT,
    SILENT,
    STALE,
    STATES,
    UNREAD,
    WorkEntry,
    entries_of,
)
from catalog.store import read as store
from catalog.store.engine import read, write
from catalog.store.tables_doubts import CLOSED, DRAFTED, OPENED
from catalog.store.work import StoredWork, add_work, decided

KIND_WORDS = {
    REPORT: "crew report",
    CUES: "asked for, not in the catalogue",
    UNREAD: "word nobody reads",
    STALE: "facts that grow old",
    SILENT: "often opened, much not stated",
}
STALE_YEARS = 5
LONGEST_REASON = 400


@dataclass(frozen=True, slots=True)
class WorkAsked:
    """kind, state: one, or "" for all kinds, "open" by default. words: all in it. years: what counts as old."""

    kind: str = ""
    state: str = OPEN_STATE
    words: str = ""
    years: int = STALE_YEARS


def list_work(house: House, actor: Actor | None, asked: WorkAsked) -> tuple[WorkEntry, ...]:
    """The entries asked for: crew reports newest first, then the rest by weight. Raises BadInput, Unavailable."""
    require(actor, Right.UPDATE)
    if asked.kind and asked.kind not in KINDS:
        raise BadInput(f"kind is {asked.kind!r}.", cure=f"Use one of: {', '.join(KINDS)}.")
    if asked.state and asked.state not in STATES:
        raise BadInput(f"state is {asked.state!r}.", cure=f"Use one of: {', '.join(STATES)}.")
    found: list[WorkEntry] = []
    with read(house.engine) as conn:
        for kind in (asked.kind,) if asked.kind else KINDS:
            last = {each.key: each for each in decided(conn, kind)}
            found += (_decided(entry, last.get(entry.key)) for entry in entries_of(house, conn, kind, asked.years))
    if asked.state:
        found = [entry for entry in found if entry.state == asked.state]
    if asked.words.strip():
        said = with_words(asked.words)
        found = [entry for entry in found if said(f"{entry.title} {entry.detail} {entry.code}")]
    return tuple(found)


def work_entry(house: House, actor: Actor | None, kind: str, key: str) -> WorkEntry:
    """One entry, whatever became of it. Raises NotFound."""
    for entry in list_work(house, actor, WorkAsked(kind, "", years=0 if kind == STALE else STALE_YEARS)):
        if entry.key == key:
            return entry
    raise NotFound(f"There is no entry {kind}/{key}.", cure="List them: chockbook work list")


def close_work(house: House, actor: Actor | None, kind: str, key: str, reason: str) -> None:
    """Close an entry. Raises BadInput, NotFound, Conflict where it is closed."""
    person = require(actor, Right.UPDATE)
    entry = work_entry(house, person, kind, key)
    if entry.state == CLOSED_STATE:
        raise Conflict(f"It was closed by {entry.by}: {entry.reason}", cure="Open it again first.")
    _decide(house, person, entry, CLOSED, reason_of(reason))


def open_work(house: House, actor: Actor | None, kind: str, key: str, reason: str) -> None:
    """Open a closed entry again."""
    person = require(actor, Right.UPDATE)
    _decide(house, person, work_entry(house, person, kind, key), OPENED, reason_of(reason))


def draft_work(house: House, actor: Actor | None, kind: str, key: str, code: str = "") -> str:
    """Make a draft change of an entry; returns the update's id. What is to change is edited in the review.

    code: the record it concerns, where the entry names none. Raises BadInput, NotFound, Unavailable.
    """
    person = require(actor, Right.UPDATE)
    entry = work_entry(house, person, kind, key)
    if not entry.code and not code:
        raise BadInput("This entry names no record.", cure="Name the record that the change is to.")
    known = parsed_code(entry.code or code)
    with read(house.engine) as conn:
        newest = store.latest(conn)
        found = store.record_at(conn, known, newest.number) if newest else None
    if found is None:
        raise NotFound(f"There is no record {known} now.", cure="Name one that is listed.")
    reason = f"{KIND_WORDS[kind]} {key}: {entry.detail}"[:LONGEST_REASON]
    origin = "crew report" if kind == REPORT else "page"
    mark = hashlib.sha256(f"{entry.id} {found.hash}".encode()).hexdigest()
    name = f"{KIND_WORDS[kind]}: {entry.title}"[:200]
    update = propose(
        house, person, Proposed(name, mark, origin, (ProposedRecord(known, found.hash, found.document, reason),))
    )
    _decide(house, person, entry, DRAFTED, f"draft of {known}", update)
    return update


def _decide(house: House, person: Actor, entry: WorkEntry, action: str, reason: str, update: str = "") -> None:
    row = StoredWork(secrets.token_urlsafe(18), entry.kind, entry.key, action, person.name, now_us(), reason, update)
    with write(house.engine) as conn:
        add_work(conn, row)
        note(conn, person, f"work {action}", entry.id, {"reason": reason})


def reason_of(text: str) -> str:
    """Why something is done with an entry, in one line. Raises BadInput."""
    reason = " ".join(text.split())
    if not reason or len(reason) > LONGEST_REASON:
        raise BadInput("No reason is given." if not reason else "It is too long.", cure="Say why, in a few words.")
    return reason


def _decided(entry: WorkEntry, last: StoredWork | None) -> WorkEntry:
    if last is None or last.action == OPENED:
        return entry
    state = CLOSED_STATE if last.action == CLOSED else DRAFT_STATE
    return replace(entry, state=state, reason=last.reason, by=last.author, update=last.update_id)
