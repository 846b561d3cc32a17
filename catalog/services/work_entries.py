"""Where the entries of the work list come from, each kind in its order.

What an entry says follows from an edition and from rows that are only ever added to or counted up, so it is kept until
there are more of them.
"""

import hashlib
from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.resolve.labels import cue_label
from catalog.resolve.tables import Tables
from catalog.services.clock import moment_of, years_ago
from catalog.services.doubts import path_words
from catalog.services.house import House
from catalog.services.outcomes import unpacked_cues
from catalog.services.record_ages import Ages, record_ages
from catalog.services.remembered import Remembered
from catalog.store.outcomes import newest_outcomes, outcome_total
from catalog.store.photos import photos_listed
from catalog.store.shown import consulted_state, consulted_times
from catalog.store.tables import NOT_LISTED
from catalog.store.unread import often
from catalog.store.work import all_reports, report_total

REPORT, CUES, UNREAD, STALE, SILENT = KINDS = ("report", "cues", "unread", "stale", "silent")
OPEN_STATE, CLOSED_STATE, DRAFT_STATE = STATES = ("open", "closed", "drafted")
PHOTO_THERE, PHOTO_GONE = "there", "taken away"
MOST_KEPT = 3  # lists of each kind
_MOST_OUTCOMES = 5000


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


def entries_of(house: House, conn: Connection, kind: str, years: int) -> tuple[WorkEntry, ...]:
    """All of one kind as if nothing was decided of them: reports newest first, others by weight. years: what counts as
    old."""
    compiled, at = house.shelf.current(), str(conn.engine.url)
    match kind:
        case "report":
            key: Hashable = (at, compiled.hash, report_total(conn))
            return _with_photos(conn, _kept(kind, key, lambda: _reports(conn, compiled.titles)))
        case "cues":
            key = (at, compiled.hash, outcome_total(conn))
            return _kept(kind, key, lambda: _cue_sets(conn, compiled.tables))
        case "unread":
            return tuple(_unread(conn))
        case "stale":
            before = years_ago(years)
            return _kept(kind, (compiled.hash, before), lambda: _stale(house, compiled, before))
    key = (at, compiled.hash, consulted_state(conn))
    return _kept(kind, key, lambda: _silent(compiled, record_ages(house), consulted_times(conn)))


_lists: Mapping[str, Remembered[tuple[WorkEntry, ...]]] = {kind: Remembered(MOST_KEPT) for kind in KINDS}


def _kept(kind: str, key: Hashable, make: Callable[[], Iterable[WorkEntry]]) -> tuple[WorkEntry, ...]:
    return _lists[kind].of(key, lambda: tuple(sorted(make(), key=_order)))


def _order(entry: WorkEntry) -> tuple[float, int, str]:
    return -entry.time.timestamp() if entry.time else 0.0, -entry.weight, entry.key


def _reports(conn: Connection, titles: Mapping[str, str]) -> Iterator[WorkEntry]:
    for one in all_reports(conn):
        about = f" About: {path_words(one.path)}." if one.path else ""
        yield WorkEntry(
            REPORT, one.id, titles.get(one.code, one.code), f"{one.words}{about}",
            one.code, one.path, one.revision, 1, moment_of(one.time_us),
        )  # fmt: skip


def _with_photos(conn: Connection, entries: tuple[WorkEntry, ...]) -> tuple[WorkEntry, ...]:
    """A photo may come later than its report, and be taken away."""
    photos = photos_listed(conn)
    if not photos:
        return entries
    states = {True: PHOTO_THERE, False: PHOTO_GONE}
    return tuple(replace(one, photo=states[photos[one.key]]) if one.key in photos else one for one in entries)


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
    for word, times in often(conn):
        yield WorkEntry(UNREAD, word, word, f"stayed unread in {times} descriptions", weight=times)


def _stale(house: House, compiled: Compiled, before: str) -> Iterator[WorkEntry]:
    for code, one in record_ages(house).items():
        old = one.older_than(before)
        if old:
            detail = f"{old} of {one.facts} facts rest on issues of before {before}"
            yield WorkEntry(STALE, _revision(compiled, code), one.title, detail, code, weight=old)


def _silent(compiled: Compiled, ages: Mapping[str, Ages], opened: Mapping[str, int]) -> Iterator[WorkEntry]:
    for code, times in opened.items():
        one = ages.get(code)
        if one is not None and one.silent * 2 > one.silent + one.safety:
            detail = f"opened {times} times; {one.silent} safety facts not stated, {one.safety} stated"
            yield WorkEntry(SILENT, _revision(compiled, code), one.title, detail, code, weight=times * one.silent)


def _revision(compiled: Compiled, code: str) -> str:
    """What is decided of an entry counts for what the record says now."""
    return f"{code}:{compiled.revision(code)[0][:12]}"
