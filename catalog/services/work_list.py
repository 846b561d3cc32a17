"""The steward's work list: what crews report, what is asked for and not found, words nobody reads, what grows old.

An entry is found anew each time from where it comes from; only what was decided of it is kept. Each can become a draft
change, which names where it came from, and is closed with a reason.
"""

import hashlib
import secrets
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.domain.roles import Right
from catalog.errors import BadInput, Conflict, NotFound
from catalog.resolve.labels import cue_label
from catalog.resolve.tables import Tables
from catalog.services.acting import Actor, require
from catalog.services.clock import moment_of, now_us, years_ago
from catalog.services.doubts import path_words
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.outcomes import unpacked_cues
from catalog.services.proposing import Proposed, ProposedRecord, propose
from catalog.services.record_ages import Ages, record_ages
from catalog.services.records import parsed_code
from catalog.services.trail import note
from catalog.store import read as store
from catalog.store.engine import read, write
from catalog.store.outcomes import newest_outcomes
from catalog.store.photos import photos_listed
from catalog.store.shown import consulted_times
from catalog.store.tables import NOT_LISTED
from catalog.store.tables_doubts import CLOSED, DRAFTED, OPENED
from catalog.store.unread import often
from catalog.store.work import StoredWork, add_work, all_reports, decided

REPORT, CUES, UNREAD, STALE, SILENT = KINDS = ("report", "cues", "unread", "stale", "silent")
KIND_WORDS = {
    REPORT: "crew report",
    CUES: "asked for, not in the catalogue",
    UNREAD: "word nobody reads",
    STALE: "facts that grow old",
    SILENT: "often opened, much not stated",
}
OPEN_STATE, CLOSED_STATE, DRAFT_STATE = STATES = ("open", "closed", "drafted")
PHOTO_THERE, PHOTO_GONE = "there", "taken away"
STALE_YEARS = 5
LONGEST_REASON = 400
_MOST_OUTCOMES = 5000
_MOST_SILENT = 200


@dataclass(frozen=True, slots=True)
class WorkEntry:
    """kind: one of KINDS. key: of the entry within it. title, detail: in words. code: the record, "" for none.

    path, revision: of a report. weight: how pressing, the most first. time: of a report; None otherwise. photo: of a
    report, "" for none, "there", or "taken away".
    state: one of STATES; reason, by, update: of the last decision.
    """

    kind: str
    key: str
    title: str
    detail: str
    code: str = ""
    path: str = ""
    revision: str = ""
    weight: int = 0
    time: datetime | None = None
    state: str = OPEN_STATE
    reason: str = ""
    by: str = ""
    update: str = ""
    photo: str = ""

    @property
    def id(self) -> str:
        """ "report/k3VvX0cQ9b2LrT7m": how commands and addresses name it."""
        return f"{self.kind}/{self.key}"


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
    said = with_words(asked.words)
    with read(house.engine) as conn:
        last = {(each.kind, each.key): each for each in decided(conn)}
        found = [_decided(entry, last.get((entry.kind, entry.key))) for entry in _entries(house, conn, asked)]
    return tuple(
        entry
        for entry in sorted(found, key=_order)
        if (not asked.state or entry.state == asked.state) and said(f"{entry.title} {entry.detail} {entry.code}")
    )


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


def _order(entry: WorkEntry) -> tuple[int, float, int, str]:
    when = entry.time.timestamp() if entry.time else 0.0
    return KINDS.index(entry.kind), -when, -entry.weight, entry.key


def _entries(house: House, conn: Connection, asked: WorkAsked) -> Iterator[WorkEntry]:
    compiled = house.shelf.current()
    if asked.kind in ("", REPORT):
        yield from _reports(conn, compiled.titles)
    if asked.kind in ("", CUES):
        yield from _cue_sets(conn, compiled.tables)
    if asked.kind in ("", UNREAD):
        yield from _unread(conn)
    if asked.kind in ("", STALE, SILENT):
        yield from _of_records(house, conn, compiled, asked)


def _reports(conn: Connection, titles: Mapping[str, str]) -> Iterator[WorkEntry]:
    photos = photos_listed(conn)
    for one in all_reports(conn):
        about = f" {path_words(one.path)}." if one.path else ""
        yield WorkEntry(
            REPORT, one.id, titles.get(one.code, one.code), f"{one.words}{'' if not about else f' About:{about}'}",
            one.code, one.path, one.revision, 1, moment_of(one.time_us),
            photo="" if one.id not in photos else PHOTO_THERE if photos[one.id] else PHOTO_GONE,
        )  # fmt: skip


def _cue_sets(conn: Connection, tables: Tables) -> Iterator[WorkEntry]:
    """Cues of searches whose vehicle was confirmed not to be in the catalogue, those alike as one."""
    alike = Counter(one.cues for one in newest_outcomes(conn, _MOST_OUTCOMES) if one.outcome == NOT_LISTED)
    for cues, times in alike.items():
        said = ", ".join(cue_label(cue, tables) for cue in unpacked_cues(cues))
        key = hashlib.sha256(cues).hexdigest()[:24]
        yield WorkEntry(
            CUES, key, said, f"{times} {'time' if times == 1 else 'times'} not in the catalogue", weight=times
        )


def _unread(conn: Connection) -> Iterator[WorkEntry]:
    for word, times in often(conn, 200):
        yield WorkEntry(UNREAD, word, word, f"stayed unread in {times} descriptions", weight=times)


def _of_records(house: House, conn: Connection, compiled: Compiled, asked: WorkAsked) -> Iterator[WorkEntry]:
    ages = record_ages(house)
    before = years_ago(asked.years)
    if asked.kind in ("", STALE):
        for code, one in ages.items():
            old = one.older_than(before)
            if old:
                detail = f"{old} of {one.facts} facts rest on issues of before {before}"
                yield WorkEntry(STALE, f"{code}:{compiled.revision(code)[0][:12]}", one.title, detail, code, weight=old)
    if asked.kind in ("", SILENT):
        opened = consulted_times(conn)
        yield from sorted(_silent(compiled, ages, opened), key=lambda entry: -entry.weight)[:_MOST_SILENT]


def _silent(compiled: Compiled, ages: Mapping[str, Ages], opened: dict[str, int]) -> Iterator[WorkEntry]:
    for code, times in opened.items():
        one = ages.get(code)
        if one is not None and one.silent * 2 > one.silent + one.safety:
            detail = f"opened {times} times; {one.silent} safety facts not stated, {one.safety} stated"
            key = f"{code}:{compiled.revision(code)[0][:12]}"
            yield WorkEntry(SILENT, key, one.title, detail, code, weight=times * one.silent)
