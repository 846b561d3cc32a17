"""Doubt: one person, at once, turns a published fact to "not stated"; its protective reading takes over.

The fact goes in an edition of its own, without a second person, the watch list or a search run: a wrong fact on a
crew's screen costs more than a missing one. Putting it back takes two: whoever proposes it and another who approves it.
The doubter may be either of the two and never both.
"""

import hashlib
import logging

from sqlalchemy import Connection

from catalog.domain.documents import document_from_record
from catalog.domain.doubt import may_be_doubted, put_back, said_at, without
from catalog.domain.record import Record
from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError, Conflict, NotFound
from catalog.services.acting import Actor, require
from catalog.services.clock import now_us
from catalog.services.compiling import compile_latest, record_of
from catalog.services.house import House
from catalog.services.proposing import Proposed, ProposedRecord, propose
from catalog.services.records import parsed_code
from catalog.services.trail import note
from catalog.store import read as store
from catalog.store.doubts import put_doubt, standing_doubts
from catalog.store.engine import read, write
from catalog.store.publish import Publication, publish
from catalog.store.rows import StoredDoubt, StoredRevision
from catalog.store.turn import take_turn

LONGEST_REASON = 400
_log = logging.getLogger(__name__)


def doubt(house: House, actor: Actor | None, code: str, path: str, reason: str, *, seen: str = "") -> int:
    """Publish an edition in which the fact is not stated; returns its number.

    path: see `catalog.domain.doubt`. seen: the revision the person looked at, where the edge knows it: if what the
    record says there has changed since, nothing is done. Readers of this host have the edition when this returns;
    those of others within seconds. Raises NotSignedIn, Forbidden, BadInput, NotFound, Conflict, Unavailable.
    """
    person = require(actor, Right.DOUBT)
    known = parsed_code(code)
    why = _checked(path, reason)
    with write(house.engine) as conn:
        number = _published(conn, person, StoredDoubt(0, known, path, seen, person.name, now_us(), why))
    _compile(house)
    return number


def restore(house: House, actor: Actor | None, code: str, path: str, reason: str) -> str:
    """Propose that the fact says again what it said when it was doubted; returns the update's id.

    Nothing is published: somebody other than the proposer accepts it in the review. Raises NotSignedIn, Forbidden,
    BadInput, NotFound, Conflict (it is not doubted), Unavailable.
    """
    person = require(actor, Right.UPDATE)
    known = parsed_code(code)
    why = _checked(path, reason)
    with read(house.engine) as conn:
        edition = store.latest(conn)
        number = edition.number if edition else 0
        found = store.record_at(conn, known, number)
        if found is None:
            raise _unlisted(conn, known, number)
        standing = next((each for each in standing_doubts(conn, number, known) if each.path == path), None)
        if standing is None:
            raise Conflict(f"{path} of {known} is not doubted.", cure="There is nothing to restore.")
        doubted = store.revision(conn, standing.revision)
        assert doubted is not None  # the doubt refers to it
    document = document_from_record(put_back(record_of(found.document), path, record_of(doubted.document)))
    name = f"Restore {path} of {known}, doubted in edition {standing.edition}"
    mark = hashlib.sha256(f"{name}\n{found.hash}".encode()).hexdigest()
    given = ProposedRecord(known, found.hash, document, f"Restored: {path}. {why}")
    return propose(house, person, Proposed(name, mark, "restore", (given,)))


def keep_doubts(conn: Connection, person: Actor, before: int, number: int) -> int:
    """Doubt again what stood doubted in edition `before` and is said again in the newest, `number`; the newest then.

    For going back: one person may do that, and restoring takes two. An edition each, in the same transaction, so that
    nobody is shown the fact in between.
    """
    for standing in reversed(standing_doubts(conn, before)):
        found = store.record_at(conn, standing.code, number)
        if found is not None and said_at(record_of(found.document), standing.path):
            why = f"Kept on going back. {standing.reason}"[:LONGEST_REASON]
            number = _published(
                conn, person, StoredDoubt(0, standing.code, standing.path, "", person.name, now_us(), why)
            )
    return number


def _checked(path: str, reason: str) -> str:
    if not may_be_doubted(path):
        raise BadInput(
            f"{path!r} names no fact that can be doubted.",
            cure="Name a fact as the history does, such as ports[a].place, or a whole item, such as ports[a]. "
            "To stop a whole record, mark it do not use.",
        )
    why = " ".join(reason.split())
    if not why:
        raise BadInput("No reason is given.", cure="Say why, in a few words: crews read it beside the fact.")
    if len(why) > LONGEST_REASON:
        raise BadInput(f"The reason has {len(why)} characters.", cure=f"Say it in {LONGEST_REASON} at most.")
    return why


def _published(conn: Connection, person: Actor, asked: StoredDoubt) -> int:
    turn = take_turn(conn, asked.time_us)  # first, so that what is read next is what the edition follows
    found = store.record_at(conn, asked.code, turn.number - 1)
    if found is None:
        raise _unlisted(conn, asked.code, turn.number - 1)
    record = record_of(found.document)
    _compare(conn, record, found, asked)
    if not said_at(record, asked.path):
        raise _silent(conn, asked, turn.number - 1)
    reason = f"Doubted: {asked.path}. {asked.reason}"
    number = publish(
        conn,
        Publication(
            author=person.name,
            reason=f"{asked.code}: {reason}",
            records={asked.code: document_from_record(without(record, asked.path))},
            reasons={asked.code: reason},
            bases={asked.code: found.hash},
        ),
        asked.time_us,
    )
    published = store.edition(conn, number)
    assert published is not None  # just published
    at = published.published_at_us
    put_doubt(conn, StoredDoubt(number, asked.code, asked.path, found.hash, person.name, at, asked.reason))
    note(conn, person, "doubt", asked.code, {"path": asked.path, "edition": number, "reason": asked.reason})
    return number


def _compare(conn: Connection, record: Record, found: StoredRevision, asked: StoredDoubt) -> None:
    """Refuse where what the person looked at says otherwise than what is listed now."""
    if asked.revision in ("", found.hash):
        return
    seen = store.revision(conn, asked.revision)
    if seen is None or seen.code != asked.code:
        raise BadInput(f"{asked.code} has no revision {asked.revision[:12]}.", cure="Open the record again.")
    before, now = said_at(record_of(seen.document), asked.path), said_at(record, asked.path)
    if before != now and now:
        raise Conflict(
            f"{asked.path} of {asked.code} has changed since: you saw revision {seen.seq}, now it is {found.seq}.",
            cure="Look at what it says now, and doubt that if it is wrong too.",
        )


def _unlisted(conn: Connection, code: str, number: int) -> NotFound:
    why = store.withdrawal(conn, code, number)
    if why is not None:
        return NotFound(f"{code} is marked do not use already: {why}", cure="There is nothing left to doubt.")
    return NotFound(f"There is no record {code}.", cure="List the records, or search by description.")


def _silent(conn: Connection, asked: StoredDoubt, number: int) -> Conflict:
    for standing in standing_doubts(conn, number, asked.code):
        if standing.path == asked.path:
            return Conflict(
                f"{asked.path} of {asked.code} is doubted already: by {standing.author} in edition {standing.edition}.",
                cure="Nothing more is needed; it is not stated.",
            )
    return Conflict(
        f"{asked.path} of {asked.code} is not stated, so there is nothing to doubt.",
        cure="Check the path in the record's history.",
    )


def _compile(house: House) -> None:
    """Have this host answer with it at once. The edition is published whatever happens here."""
    try:
        compile_latest(house)
    except (ChockbookError, OSError) as error:
        _log.warning("The edition with the doubt is compiled by whoever follows: %s", error)
