"""What a newer edition says otherwise than a brief: from the listings, by code and fact path."""

from collections.abc import Iterator, Sequence

from sqlalchemy import Connection

from catalog.domain.delta import FactChange, PlainChange, difference
from catalog.domain.facts import Fact
from catalog.domain.record import Record, attribute_at
from catalog.domain.wording import fact_wording, sentence
from catalog.services.brief_kept import AboutVehicle, Composed
from catalog.services.brief_views import Gone, NewerFact, NewerView
from catalog.services.clock import moment_of
from catalog.services.compiling import record_of
from catalog.services.noticing import concerned
from catalog.store import read as store
from catalog.store.doubts import standing_doubts
from catalog.store.rows import StoredDoubt

NO_REASON = "It is not in the newest edition."


def newer_of(conn: Connection, composed: Composed) -> NewerView | None:
    """What the newest edition changes in a brief; None where the brief is of the newest."""
    newest = store.latest(conn)
    if newest is None or newest.number <= composed.edition.number:
        return None
    facts: list[NewerFact] = []
    gone = []
    for vehicle in composed.vehicles:
        now = store.record_at(conn, vehicle.code, newest.number)
        if now is None:
            reason = store.withdrawal(conn, vehicle.code, newest.number)
            gone.append(Gone(vehicle.code, reason or NO_REASON))
        elif now.hash != vehicle.revision:
            doubts = standing_doubts(conn, newest.number, vehicle.code)
            facts += _changed(conn, composed, vehicle, record_of(now.document), doubts)
    return NewerView(newest.number, moment_of(newest.published_at_us), tuple(facts), tuple(gone))


def _changed(
    conn: Connection, composed: Composed, vehicle: AboutVehicle, new: Record, doubts: Sequence[StoredDoubt]
) -> Iterator[NewerFact]:
    before = store.revision(conn, vehicle.revision)
    assert before is not None  # a foreign key holds it
    old = record_of(before.document)
    delta = difference(old, new)
    wanted = set(concerned(delta, old, new, composed.shapes))
    changes: tuple[FactChange | PlainChange, ...] = (*delta.facts, *delta.plain)
    for change in changes:
        if change.path in wanted:
            yield _fact(vehicle.code, change, doubts)


def _fact(code: str, change: FactChange | PlainChange, doubts: Sequence[StoredDoubt]) -> NewerFact:
    since = next((moment_of(one.time_us) for one in doubts if _covers(one.path, change.path)), None)
    if isinstance(change, PlainChange):
        label = change.path.partition(".")[2].replace("_", " ")
        return NewerFact(code, change.path, sentence(label), change.old or "none", change.new or "none", since)
    attr = attribute_at(change.path)
    was, now = (_words(change.path, fact) for fact in (change.old, change.new))
    return NewerFact(code, change.path, sentence(attr.label), was, now, since)


def _words(path: str, fact: Fact) -> str:
    """ "not stated: treat as live", "left front quarter"."""
    told = fact_wording(attribute_at(path), fact)
    if told.sides:
        return "disputed: " + " or ".join(side.text or side.state for side in told.sides)
    text = told.text or told.state
    return f"{text}: {told.reading}" if told.reading else text


def _covers(doubted: str, path: str) -> bool:
    return path == doubted or path.startswith((f"{doubted}.", f"{doubted}["))
