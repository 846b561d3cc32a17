"""Verifying from a page: it runs beside the requests, says how far it is, and what it found is kept with its time."""

import json
import logging
import secrets
import threading
from dataclasses import dataclass, replace
from datetime import datetime

from catalog.domain.roles import Right
from catalog.errors import ChockbookError, Conflict
from catalog.services.acting import Actor, require
from catalog.services.clock import SECOND, moment_of, now_us
from catalog.services.house import House
from catalog.services.trail import note
from catalog.services.views import Fault
from catalog.store.engine import read, write
from catalog.store.verifications import StoredVerification, begin, newest, progress
from catalog.store.verify import CHECKS, verify

KEPT = 20
_DEAD_AFTER = 120 * SECOND  # without a sign of life, such as after a restart
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class VerificationView:
    """One verification. state: "running", "stopped" (its process ended) or "done". head: the newest edition's hash."""

    id: str
    author: str
    started: datetime
    state: str
    done: int
    total: int
    ended: datetime | None
    revisions: int
    editions: int
    head: str
    faults: tuple[Fault, ...]
    problem: str


def verifications(house: House, actor: Actor | None) -> tuple[VerificationView, ...]:
    """The last ones, newest first. Raises NotSignedIn, Forbidden, Unavailable."""
    require(actor, Right.UPDATE)
    with read(house.engine) as conn:
        return tuple(map(_view, newest(conn, KEPT)))


def start_verification(house: House, actor: Actor | None) -> threading.Thread:
    """Begin one in the background. Raises NotSignedIn, Forbidden, Conflict where one runs already."""
    person = require(actor, Right.UPDATE)
    if any(one.state == "running" for one in verifications(house, person)):
        raise Conflict("A verification is running already.", cure="Wait for it to end.")
    made = StoredVerification(secrets.token_urlsafe(18), person.name, now_us(), now_us(), 0, CHECKS)
    with write(house.engine) as conn:
        begin(conn, made)
        note(conn, person, "verify", "catalogue")
    thread = threading.Thread(target=_run, args=(house, made), name="verification", daemon=True)
    thread.start()
    return thread


def _run(house: House, made: StoredVerification) -> None:
    def told(done: int) -> None:
        _keep(house, replace(made, done=done, alive_us=now_us()))

    try:
        with read(house.engine) as conn:
            found = verify(conn, progress=told)
        report = {
            "revisions": found.revisions,
            "editions": found.editions,
            "head": found.head,
            "faults": [[fault.kind, fault.key, fault.seq, fault.problem] for fault in found.faults],
        }
    except (ChockbookError, OSError) as error:
        report = {"problem": str(error)}
    _keep(
        house, replace(made, done=made.total, alive_us=now_us(), ended_us=now_us(), report=json.dumps(report).encode())
    )


def _keep(house: House, made: StoredVerification) -> None:
    try:
        with write(house.engine) as conn:
            progress(conn, made)
    except (ChockbookError, OSError) as error:
        _log.warning("How far a verification is cannot be written now: %s", error)


def _view(one: StoredVerification) -> VerificationView:
    report = json.loads(one.report) if one.report else {}
    running = "running" if now_us() - one.alive_us < _DEAD_AFTER else "stopped"
    return VerificationView(
        id=one.id,
        author=one.author,
        started=moment_of(one.started_us),
        state=running if one.ended_us is None else "done",
        done=one.done,
        total=one.total,
        ended=moment_of(one.ended_us) if one.ended_us else None,
        revisions=report.get("revisions", 0),
        editions=report.get("editions", 0),
        head=report.get("head", ""),
        faults=tuple(Fault(*fault) for fault in report.get("faults", ())),
        problem=report.get("problem", ""),
    )
