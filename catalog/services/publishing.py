"""Publishing what is accepted, and going back.

One transaction: the edition, what each update says of it, the checks it was published with, and the trail. Whoever
kills the program finds the old edition or the new one; the compiled edition follows the store.
"""

import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection

from catalog.compiled import Compiled
from catalog.domain.numbers import whole_number
from catalog.domain.roles import Right
from catalog.errors import BadInput, ChockbookError, Conflict, Unavailable
from catalog.services.acting import Actor, require
from catalog.services.candidates import Candidate, Outline, candidate_of, outline_of
from catalog.services.clock import now_us
from catalog.services.compiling import catch_up, compile_latest, is_behind
from catalog.services.doubting import keep_doubts
from catalog.services.gates import BLOCKS, MAY_BE_OVERRIDDEN, Gates, gates_from, run_gates, watching
from catalog.services.house import House
from catalog.services.trail import JSON, note
from catalog.store import read as store
from catalog.store.engine import read, write
from catalog.store.publish import Publication, publish
from catalog.store.publish import go_back as store_go_back
from catalog.store.tables_updates import PUBLISH, REBASE
from catalog.store.turn import take_turn
from catalog.store.updates import StoredDecision, add_decisions, change_lines, lock_update, next_seq
from catalog.store.watch_list import StoredRun, add_run, run_of, run_of_edition, watched

LONGEST_NOTE = 2000
MOST_TRIES = 5
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Checked:
    """What would be published, and its checks. before: number of the edition they were made against."""

    candidate: Outline
    gates: Gates
    before: int


def check_publication(house: House, actor: Actor | None, numbers: Sequence[int]) -> Checked:
    """Run the checks of what is accepted of these updates, and store them; stored ones of the same are used again.

    Raises what `candidate_of` raises, Unavailable where nothing was published yet.
    """
    who = require(actor, Right.UPDATE)
    compiled = _caught_up(house)
    known = known_check(house, who, numbers)
    if known is not None:
        return known
    with read(house.engine) as conn:
        candidate = candidate_of(conn, numbers)
    gates = run_gates(house, compiled, candidate)
    run = StoredRun(0, compiled.hash, candidate.digest, None, who.name, now_us(), gates.content)
    with write(house.engine) as conn:
        add_run(conn, run)
    return Checked(candidate.outline, gates, compiled.number)


def known_check(house: House, actor: Actor | None, numbers: Sequence[int]) -> Checked | None:
    """The stored checks of exactly what is accepted of these updates now; None where there are none, or nothing is
    accepted. Raises what `candidate_of` raises otherwise."""
    require(actor, Right.UPDATE)
    compiled = house.shelf.current()
    with read(house.engine) as conn:
        try:
            candidate = outline_of(conn, numbers)
        except BadInput:
            return None
        known = run_of(conn, candidate.digest, compiled.hash)
        now_watched = watching(tuple(watched(conn)))
    if known is None:
        return None
    gates = gates_from(known.content)
    return Checked(candidate, gates, compiled.number) if gates.watching == now_watched else None


def publish_edition(
    house: House,
    actor: Actor | None,
    update_ids: Sequence[str | int],
    words: str,
    overrides: Mapping[str, str] | None = None,
) -> int:
    """Publish what is accepted of these updates as the next edition; its number.

    words: the edition's note. overrides: reasons to publish although a check blocks, by the check's key. Raises
    NotSignedIn, Forbidden, BadInput, NotFound, Conflict (also where a check blocks), Invalid, Unavailable.
    """
    who = require(actor, Right.APPROVE)
    told = _note_of(words)
    reasons = _overrides(overrides or {})
    numbers = numbers_of(update_ids)
    checked = check_publication(house, who, numbers)
    gates = replace(checked.gates, overrides={key: reasons[key] for key in reasons if _blocks(checked.gates, key)})
    if gates.blocking:
        first = gates.blocking[0]
        cure = "Mend what it names."
        if first.key in MAY_BE_OVERRIDDEN:
            cure = "Mend what it names, or give a reason to publish all the same."
        raise Conflict(f"{first.title} is in the way: {first.words}.", cure=cure)
    with write(house.engine) as conn:
        number = _publish(conn, who, replace(checked, gates=gates), told)
    bring_up(house)
    return number


def go_back(house: House, actor: Actor | None, to_edition: int, reason: str) -> int:
    """Publish an earlier edition's members as the next edition; the number of the newest then.

    One approver alone may: every member was published by two persons once, and a bad edition must go at once. What is
    doubted stays doubted: each fact that would come back goes again in an edition of its own, at once. Raises
    NotSignedIn, Forbidden, BadInput, NotFound, Unavailable.
    """
    who = require(actor, Right.APPROVE)
    why = _note_of(reason)
    with write(house.engine) as conn:
        number = store_go_back(conn, to_edition, who.name, why, now_us())
        note(conn, who, "go back", f"edition {number}", {"to": to_edition, "reason": why})
        number = keep_doubts(conn, who, number - 1, number)
    bring_up(house)
    return number


def gates_of_edition(house: House, number: int) -> Gates | None:
    """The checks an edition was published with; None where it came about otherwise. Raises Unavailable."""
    with read(house.engine) as conn:
        found = run_of_edition(conn, number)
    return None if found is None else gates_from(found.content)


def bring_up(house: House) -> None:
    """Compile what was published. Where that fails it is published all the same, and every process goes on trying."""
    try:
        compile_latest(house)
    except (ChockbookError, OSError):
        _log.exception("Published, and not compiled yet")


def _caught_up(house: House) -> Compiled:
    """The newest published edition as it is compiled. Raises Unavailable."""
    for _ in range(MOST_TRIES):  # somebody may publish another one meanwhile
        catch_up(house)
        if not is_behind(house):
            break
    else:
        raise Unavailable("The newest edition is being compiled.", cure="Try again in a moment.")
    return house.shelf.current()


def _publish(conn: Connection, who: Actor, checked: Checked, words: str) -> int:
    turn = take_turn(conn, now_us())  # first: whoever waits here sees what the other published
    for number in checked.candidate.numbers:
        lock_update(conn, number)
    newest = store.latest(conn)
    candidate = candidate_of(conn, checked.candidate.numbers)
    moved = newest is None or newest.number != checked.before
    if moved or candidate.digest != checked.candidate.digest:
        raise Conflict(
            "Something was published or decided since the checks were made.", cure="Run them again, then publish."
        )
    publication = Publication(
        author=who.name,
        reason=words,
        records=candidate.records,
        reasons=candidate.reasons,
        withdrawn=candidate.withdrawn,
        sources=candidate.sources,
        bases=candidate.bases,
        update=",".join(str(number) for number in candidate.numbers),
    )
    number = publish(conn, publication, turn.time_us)
    for update_number in candidate.numbers:
        _tell_update(conn, who, candidate, update_number, number)
    assert newest is not None
    run = StoredRun(0, newest.hash, candidate.digest, number, who.name, turn.time_us, checked.gates.content)
    add_run(conn, run)
    told: dict[str, JSON] = {
        "updates": list(candidate.numbers),
        "overrides": dict(checked.gates.overrides),
        "note": words,
    }
    note(conn, who, "publish", f"edition {number}", told)
    return number


def _tell_update(conn: Connection, who: Actor, candidate: Candidate, update_number: int, edition: int) -> None:
    """Note in an update what of it was published, and bring what is left up to it."""
    listed = {line.code: line.listed for line in change_lines(conn, update_number)}
    seq, now = next_seq(conn, update_number), now_us()
    made: list[StoredDecision] = []

    def add(kind: str, code: str | None, content: Mapping[str, object]) -> None:
        place = seq + len(made)
        made.append(StoredDecision(update_number, place, kind, code, None, None, who.name, now, "", dict(content)))

    taken = [one for one in candidate.taken if one.number == update_number]
    for one in taken:
        add(PUBLISH, one.code, {"edition": edition, "all": not one.rest})
        if one.rest:
            add(REBASE, one.code, {"base": listed[one.code], "listed": True})
    rest = any(one.rest for one in taken) or bool(candidate.left.get(update_number))
    add(PUBLISH, None, {"edition": edition, "all": not rest})
    add_decisions(conn, made)


def _blocks(gates: Gates, key: str) -> bool:
    return any(gate.key == key and gate.outcome == BLOCKS for gate in gates.gates)


def _overrides(given: Mapping[str, str]) -> dict[str, str]:
    made = {}
    for key, reason in given.items():
        if key not in MAY_BE_OVERRIDDEN:
            raise BadInput(f"{key!r} cannot be overridden.", cure=f"Only: {', '.join(sorted(MAY_BE_OVERRIDDEN))}.")
        why = " ".join(reason.split())
        if not why:
            raise BadInput(f"{key} is overridden without a reason.", cure="Say why.")
        made[key] = why
    return made


def numbers_of(ids: Sequence[str | int]) -> list[int]:
    """Numbers of guide updates, as they are written. Raises BadInput."""
    made = []
    for one in ids:
        number = whole_number(str(one))
        if number is None:
            raise BadInput(f"{str(one)!r} is no guide update.", cure="Give its number.")
        made.append(number)
    if not made:
        raise BadInput("No guide update is named.", cure="Give the number of one or more.")
    return made


def _note_of(words: str) -> str:
    told = " ".join(words.split())
    if not told:
        raise BadInput("The edition comes without a note.", cure="Say what changes and why.")
    if len(told) > LONGEST_NOTE:
        raise BadInput(f"The note has {len(told)} characters.", cure=f"Say it in {LONGEST_NOTE} at most.")
    return told
