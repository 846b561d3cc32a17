"""Putting together what a record of an update is judged by: its base, what is listed now, what was decided."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, groupby

from sqlalchemy import Connection

from catalog.domain.chain import ZERO
from catalog.errors import NotFound
from catalog.services.review_records import Matter, ReviewRecord, Side
from catalog.services.review_state import stand, whole_of
from catalog.store import read as store
from catalog.store.tables_updates import ACCEPT, COMMENT, PUBLISH, REBASE, REJECT
from catalog.store.updates import (
    ChangeLine,
    StoredChange,
    StoredDecision,
    StoredUpdate,
    change_lines,
    changes_of,
    decisions,
    update,
)

_WHOLE = {ACCEPT: "accepted", REJECT: "rejected"}


def no_update(number: int) -> NotFound:
    """What there is to say where an update is not there."""
    return NotFound(f"There is no guide update {number}.", cure="List them: chockbook review list")


def known_update(conn: Connection, number: int) -> StoredUpdate:
    """One update. Raises NotFound."""
    found = update(conn, number)
    if found is None:
        raise no_update(number)
    return found


def matter_of(conn: Connection, update: StoredUpdate, change: StoredChange, made: Sequence[StoredDecision]) -> Matter:
    """All that one record is judged by. made: what was decided of it, first to last."""
    newest = store.latest(conn)
    number = newest.number if newest else 0
    base_document = _document(conn, change.base)
    was = store.record_at(conn, change.code, update.edition) if update.edition and base_document else None
    now = store.record_at(conn, change.code, number)
    last = now or store.last_listed(conn, change.code, number)
    bases = {one.content["base"]: _document(conn, one.content["base"]) or {} for one in made if one.kind == REBASE}
    return Matter(
        change=change,
        author=update.author,
        decisions=made,
        base=Side(change.base, base_document, was is not None),
        now=Side(last.hash if last else ZERO, last.document if last else None, now is not None),
        bases=bases,
    )


def record_in(conn: Connection, update: StoredUpdate, code: str) -> ReviewRecord:
    """How one record of an update stands. Raises NotFound."""
    found = next(iter(list(changes_of(conn, update.number, [code]))), None)
    if found is None:
        raise NotFound(f"Guide update {update.number} says nothing of {code}.", cure="List the records it changes.")
    return stand(matter_of(conn, update, found, list(decisions(conn, update.number, code))))


@dataclass(frozen=True, slots=True)
class Standing:
    """A record of an update in a list. state: open, accepted, rejected, accepted in part, published, nothing left.
    record: only where it had to be worked out; None where all of it was decided at once, as it came."""

    line: ChangeLine
    state: str
    stale: bool
    decided: StoredDecision | None
    record: ReviewRecord | None


def standings(conn: Connection, update: StoredUpdate, codes: Sequence[str] | None = None) -> Iterator[Standing]:
    """Every record of an update, or some by code, most pressing first.

    Documents are read only where fields were decided of.
    """
    made = decisions_by_code(conn, update.number, codes)
    for line in change_lines(conn, update.number, codes):
        yield standing(conn, update, line, made.get(line.code, ()))


def decisions_by_code(
    conn: Connection, number: int, codes: Sequence[str] | None = None
) -> Mapping[str, Sequence[StoredDecision]]:
    """What was decided of each record of an update, or of some by code, first to last."""
    every = decisions(conn, number) if codes is None else chain(*(decisions(conn, number, code) for code in codes))
    of_records = [one for one in every if one.code is not None]
    of_records.sort(key=lambda one: (one.code or "", one.seq))
    return {code or "": list(group) for code, group in groupby(of_records, key=lambda one: one.code)}


def standing(conn: Connection, update: StoredUpdate, line: ChangeLine, made: Sequence[StoredDecision]) -> Standing:
    """How one stands."""
    published = next((one for one in reversed(made) if one.kind == PUBLISH), None)
    if published is not None and published.content["all"]:
        return Standing(line, "published", stale=False, decided=published, record=None)
    simple = all(one.kind == COMMENT or (one.kind in _WHOLE and one.path is None) for one in made)
    as_it_was = line.listed == (None if line.base == ZERO else line.base)
    if simple and as_it_was:
        whole = [one for one in reversed(made) if one.kind in _WHOLE]
        # Of most of ten thousand nothing is decided: what names them is not worked out.
        of = whole_of(line.code, line.base, line.content_hash) if whole else ""
        last = next((one for one in whole if one.of == of), None)
        return Standing(line, _WHOLE[last.kind] if last else "open", stale=False, decided=last, record=None)
    change = next(iter(list(changes_of(conn, update.number, [line.code]))))
    record = stand(matter_of(conn, update, change, made))
    return Standing(line, record.state, record.stale, None, record)


def _document(conn: Connection, digest: str) -> Mapping[str, object] | None:
    stored = store.revision(conn, digest) if digest != ZERO else None
    return stored.document if stored else None
