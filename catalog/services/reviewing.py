"""Reviewing a guide update: comment, accept, reject and edit, record by record or field by field.

Whoever brought a safety-critical change in, or edited it, cannot be the one who accepts it. Nothing decided is ever
taken back; what is decided later counts. Each function takes the acting account and raises NotSignedIn and Forbidden.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection

from catalog.domain.chain import ZERO
from catalog.domain.roles import Right
from catalog.errors import BadInput, Conflict, Forbidden, NotFound
from catalog.services.acting import Actor, require
from catalog.services.clock import now_us
from catalog.services.house import House
from catalog.services.review_matters import decisions_by_code, no_update, record_in, standing
from catalog.services.review_records import ReviewChange, ReviewRecord
from catalog.services.review_rules import check_current, check_two_persons
from catalog.services.review_state import whole_of
from catalog.services.trail import note
from catalog.store.engine import write
from catalog.store.tables_updates import ACCEPT, COMMENT, EDIT, REBASE, REJECT, REOPEN, SET_ASIDE
from catalog.store.updates import (
    ASIDE,
    OPEN,
    PUBLISHED,
    StoredDecision,
    StoredUpdate,
    add_decision,
    add_decisions,
    change_lines,
    lock_update,
    next_seq,
    standing_of,
)
from schemas.record import check_record

LONGEST_WORDS = 2000


@dataclass(frozen=True, slots=True)
class Judgement:
    """number: the update. kind: accept, reject or comment. path: one field; None: the whole record. of: what the person
    looked at, where the edge knows it: if it is another by now, nothing is decided."""

    number: int
    code: str
    kind: str
    path: str | None = None
    words: str = ""
    of: str = ""


@dataclass(frozen=True, slots=True)
class Edit:
    """Another value in a field's place. fact: as a document holds it; None: the field goes, which is not stated."""

    number: int
    code: str
    path: str
    fact: Any
    words: str = ""
    of: str = ""


def decide(house: House, actor: Actor | None, judgement: Judgement) -> ReviewRecord:
    """Decide of a record or of one field; how the record stands then.

    Raises BadInput, NotFound, Conflict (the record has moved on, what was looked at is another by now, the update is
    not open) and Forbidden where one person would be both of two.
    """
    who = require(actor, Right.UPDATE)
    if judgement.kind not in (ACCEPT, REJECT, COMMENT):
        raise BadInput(f"{judgement.kind!r} is no decision.", cure="Use accept, reject or comment.")
    words = _words(judgement.words, needed=judgement.kind == COMMENT)
    with write(house.engine) as conn:
        update = _opened(conn, judgement.number)
        record = record_in(conn, update, judgement.code)
        changes = _judged(record, judgement)
        of = changes[0].of if judgement.path is not None and changes else record.of
        if judgement.kind != COMMENT:
            _check_seen(judgement, of)
            if judgement.kind == ACCEPT:
                check_current(record)
                _check_two_persons(who, changes)
        made = _made(who, update.number, judgement.kind, judgement.code, judgement.path)
        _put(conn, replace(made, of=of, words=words))
        if judgement.kind != COMMENT:
            verb = "approve" if judgement.kind == ACCEPT else "reject"
            _note(conn, who, verb, update, judgement.code, judgement.path)
        return record_in(conn, update, judgement.code)


def edit(house: House, actor: Actor | None, given: Edit) -> ReviewRecord:
    """Put another value in a field's place; how the record stands then. It has to be accepted by another person.

    Raises BadInput where the record does not pass the gate with it, NotFound, Conflict.
    """
    who = require(actor, Right.UPDATE)
    words = _words(given.words, needed=False)
    with write(house.engine) as conn:
        update = _opened(conn, given.number)
        record = record_in(conn, update, given.code)
        if record.document is None:
            raise BadInput("A record that is not to be used has no field to edit.", cure="Reject it, or comment.")
        if given.of:
            seen = next((change.of for change in record.changes if change.change.path == given.path), "")
            _same(given.of, seen)
        content = [] if given.fact is None else [given.fact]
        _put(conn, replace(_made(who, given.number, EDIT, given.code, given.path), words=words, content=content))
        made = record_in(conn, update, given.code)
        if made.document is None or made.of == record.of:
            raise BadInput(f"With this, nothing of {given.code} is another.", cure="Give another value.")
        check_record(dict(made.document))
        _note(conn, who, "edit", update, given.code, given.path)
        return made


def rebase(house: House, actor: Actor | None, number: int, code: str) -> ReviewRecord:
    """Bring the changes of a record up to what is listed now; how it stands then.

    Changes of other fields are kept as they are, of the same field both sides are shown and it is decided anew. Raises
    NotFound, Conflict where the record is not to be used by now, or nothing has moved.
    """
    who = require(actor, Right.UPDATE)
    with write(house.engine) as conn:
        update = _opened(conn, number)
        record = record_in(conn, update, code)
        if not record.stale:
            raise Conflict(f"{code} stands on what is listed already.", cure="Decide of its changes.")
        if record.gone and record.action != "withdrawn":
            raise Conflict(
                f"{code} was set to do not use since, so there is nothing these changes could stand on.",
                cure="Reject it here. To have the record back, bring it in as a whole.",
            )
        content = {"base": record.now, "listed": not record.gone and record.now != ZERO}
        _put(conn, replace(_made(who, number, REBASE, code), content=content))
        _note(conn, who, "rebase", update, code, None)
        return record_in(conn, update, code)


def set_aside(house: House, actor: Actor | None, number: int, reason: str) -> None:
    """Close an update without publishing (the rest of) it; it is kept whole. Raises BadInput, NotFound, Conflict."""
    who = require(actor, Right.UPDATE)
    words = _words(reason, needed=True)
    with write(house.engine) as conn:
        _opened(conn, number)
        _put(conn, replace(_made(who, number, SET_ASIDE), words=words))
        note(conn, who, "set aside", f"update {number}", {"reason": words})


def reopen(house: House, actor: Actor | None, number: int, reason: str) -> None:
    """Open an update again that was set aside. Raises BadInput, NotFound, Conflict."""
    who = require(actor, Right.UPDATE)
    words = _words(reason, needed=True)
    with write(house.engine) as conn:
        _locked(conn, number)
        if standing_of(conn, number)[0] != ASIDE:
            raise Conflict(f"Guide update {number} is not closed without publishing.", cure="Look at how it stands.")
        _put(conn, replace(_made(who, number, REOPEN), words=words))
        note(conn, who, "reopen", f"update {number}", {"reason": words})


@dataclass(frozen=True, slots=True)
class Accepted:
    """accepted: records. own: left because they hold safety-critical changes this person brought in or edited. moved:
    left because something else is listed by now."""

    accepted: int
    own: int
    moved: int


def accept_rest(house: House, actor: Actor | None, number: int, *, critical: bool) -> Accepted:
    """Accept every record of which nothing was decided yet. critical: also those with safety-critical changes.

    Raises NotFound, Conflict.
    """
    who = require(actor, Right.UPDATE)
    with write(house.engine) as conn:
        update = _opened(conn, number)
        made = decisions_by_code(conn, number)
        seq, taken, own, moved = next_seq(conn, number), [], 0, 0
        for line in change_lines(conn, number):
            if any(one.kind != COMMENT for one in made.get(line.code, ())):
                continue
            if line.critical and not critical:
                continue
            found = standing(conn, update, line, made.get(line.code, ()))
            if found.stale or found.record is not None:
                moved += found.stale
                continue
            if line.critical and (Right.APPROVE not in who.rights or who.name == update.author):
                own += 1
                continue
            taken.append(line)
        now = now_us()
        accepted = _made(who, number, ACCEPT)
        add_decisions(
            conn,
            (
                replace(
                    accepted, code=line.code, seq=seq + offset, time_us=now,
                    of=whole_of(line.code, line.base, line.content_hash),
                )
                for offset, line in enumerate(taken)
            ),
        )  # fmt: skip
        if taken:
            note(conn, who, "approve", f"update {number}", {"records": len(taken)})
    return Accepted(len(taken), own, moved)


def _check_two_persons(who: Actor, changes: tuple[ReviewChange, ...]) -> None:
    why = check_two_persons(who.name, Right.APPROVE in who.rights, changes)
    if why:
        raise Forbidden(why, cure="A second person, an approver, accepts it.")


def _judged(record: ReviewRecord, judgement: Judgement) -> tuple[ReviewChange, ...]:
    if judgement.path is None:
        return record.changes
    found = tuple(change for change in record.changes if change.change.path == judgement.path)
    if not found:
        raise NotFound(
            f"This update does not change {judgement.path} of {record.code}.", cure="Name a field that it changes."
        )
    return found


def _check_seen(judgement: Judgement, of: str) -> None:
    if judgement.of:
        _same(judgement.of, of)


def _same(seen: str, is_now: str) -> None:
    if seen != is_now:
        raise Conflict("This change is another since it was looked at.", cure="Look again, then decide.")


def _locked(conn: Connection, number: int) -> StoredUpdate:
    update = lock_update(conn, number)
    if update is None:
        raise no_update(number)
    return update


def _opened(conn: Connection, number: int) -> StoredUpdate:
    update = _locked(conn, number)
    state = standing_of(conn, number)[0]
    if state != OPEN:
        cure = "Open it again first." if state == ASIDE else "What is to be changed now is another update."
        raise Conflict(f"Guide update {number} is {PUBLISHED if state == PUBLISHED else 'set aside'}.", cure=cure)
    return update


def _words(text: str, *, needed: bool) -> str:
    words = " ".join(text.split())
    if needed and not words:
        raise BadInput("Nothing is said.", cure="Say why, in a few words.")
    if len(words) > LONGEST_WORDS:
        raise BadInput(f"That has {len(words)} characters.", cure=f"Say it in {LONGEST_WORDS} at most.")
    return words


def _put(conn: Connection, decision: StoredDecision) -> None:
    """Store a decision as the next of its update, now."""
    add_decision(conn, replace(decision, seq=next_seq(conn, decision.number), time_us=now_us()))


def _made(who: Actor, number: int, kind: str, code: str | None = None, path: str | None = None) -> StoredDecision:
    return StoredDecision(number, 0, kind, code, path, None, who.name, 0, "")


def _note(conn: Connection, who: Actor, verb: str, update: StoredUpdate, code: str, path: str | None) -> None:
    detail: Mapping[str, str] = {"update": str(update.number), **({"path": path} if path else {})}
    note(conn, who, verb, code, detail)
