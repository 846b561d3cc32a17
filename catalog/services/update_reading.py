"""One guide update to look at: its records as they are asked for, one of them, what was said of it."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import chain
from typing import Any

from sqlalchemy import Connection

from catalog.domain.documents import references
from catalog.domain.roles import Right
from catalog.domain.sources import Source, parse_reference, source_from_document
from catalog.intake.finding import column_letters
from catalog.services.acting import Actor, require
from catalog.services.clock import moment_of
from catalog.services.house import House
from catalog.services.records import parsed_code
from catalog.services.review_matters import Standing, known_update, no_update, record_in, standings
from catalog.services.review_state import ReviewRecord
from catalog.services.reviewing import check_two_persons
from catalog.services.update_findings import findings_of
from catalog.services.updates import UpdateSummary, summary_of
from catalog.store import read as store
from catalog.store.engine import read
from catalog.store.tables_updates import COMMENT, REOPEN, SET_ASIDE
from catalog.store.updates import OPEN, UpdateLine, decisions, update_file, update_lines, update_sources

# How the records of an update may be sorted; the first is used where nothing is asked for.
RECORD_SORTS = ("pressing", "title", "code", "changes")


@dataclass(frozen=True, slots=True)
class RecordLine:
    """A record of an update in a list; counts as of what was brought. code: of the record. moved: something else is
    listed by now."""

    code: str
    title: str
    action: str
    state: str
    changes: int
    critical: int
    less: int
    more: int
    moved: bool


@dataclass(frozen=True, slots=True)
class Remark:
    """What somebody said of the update as a whole, or did with it."""

    kind: str
    author: str
    time: datetime
    words: str


@dataclass(frozen=True, slots=True)
class UpdateView:
    """One update. states: how many records stand how. lines: those asked for, from `offset` on; total: how many there
    are of such. undecided: codes of the records that wait for a decision, those asked for first, from `beside` on, two
    at most. findings: as the file's reading gave them.
    sources: keys of what it brings."""

    summary: UpdateSummary
    states: Mapping[str, int]
    lines: tuple[RecordLine, ...]
    total: int
    offset: int
    undecided: tuple[str, ...]
    findings: tuple[Mapping[str, Any], ...]
    sources: tuple[str, ...]
    remarks: tuple[Remark, ...]


@dataclass(frozen=True, slots=True)
class RecordsAsked:
    """state: one of those a record may stand in; "" for all. only: "critical", "less" (cautious), "moved"; "" for all.
    words: in its title or code. beside: a record's code: the part of the list that it stands in, not `offset`; "" for
    none."""

    state: str = ""
    only: str = ""
    words: str = ""
    sort: str = RECORD_SORTS[0]
    offset: int = 0
    limit: int = 50
    beside: str = ""


@dataclass(frozen=True, slots=True)
class RecordReview:
    """One record of an update, with what its facts cite. refusal: why this person may not accept all of it as it is;
    "" where they may."""

    summary: UpdateSummary
    record: ReviewRecord
    sources: Mapping[str, Source]
    refusal: str


def read_update(house: House, actor: Actor | None, number: int, asked: RecordsAsked) -> UpdateView:
    """One update with the records asked for. Raises NotSignedIn, Forbidden, NotFound, Unavailable."""
    require(actor, Right.UPDATE)
    with read(house.engine) as conn:
        line = _line_of(conn, number)
        every = list(standings(conn, line.update))
        remarks = [
            Remark(one.kind, one.author, moment_of(one.time_us), one.words)
            for one in decisions(conn, number)
            if one.code is None and one.kind in (COMMENT, SET_ASIDE, REOPEN)
        ]
        findings, sources = findings_of(conn, number), update_sources(conn, number)
    lines = [_line(one) for one in every]
    kept = _sorted([one for one in lines if _asked_for(one, asked)], asked.sort)
    at = next((place for place, one in enumerate(kept) if asked.beside and one.code == asked.beside), None)
    offset = asked.offset if at is None else at - at % asked.limit
    ahead = chain(kept[at or 0 :], kept[: at or 0], lines)
    return UpdateView(
        summary=summary_of(line),
        states=dict(Counter(one.state for one in lines)),
        lines=tuple(kept[offset : offset + asked.limit]),
        total=len(kept),
        offset=offset,
        undecided=_first_two(one.code for one in ahead if one.state == OPEN),
        findings=findings,
        sources=tuple(sorted(sources)),
        remarks=tuple(remarks),
    )


def read_change(house: House, actor: Actor | None, number: int, code: str) -> RecordReview:
    """One record of an update. code: in any spelling. Raises NotSignedIn, Forbidden, NotFound, Unavailable."""
    who = require(actor, Right.UPDATE)
    known = parsed_code(code)
    with read(house.engine) as conn:
        line = _line_of(conn, number)
        record = record_in(conn, line.update, known)
        brought = update_sources(conn, number)
        keys = {parse_reference(text).key for text in _cited(record)}
        listed = {key: found.document for key in keys if (found := store.stored_source(conn, key)) is not None}
    sources = {key: source_from_document(document) for key, document in {**brought, **listed}.items() if key in keys}
    refusal = check_two_persons(who.name, Right.APPROVE in who.rights, record.changes)
    return RecordReview(summary_of(line), record, sources, refusal)


def read_file(house: House, actor: Actor | None, number: int) -> tuple[str, bytes]:
    """(name, bytes) of the file as it was brought. Raises NotSignedIn, Forbidden, NotFound, Unavailable."""
    require(actor, Right.UPDATE)
    with read(house.engine) as conn:
        return known_update(conn, number).name, update_file(conn, number)


def cell_words(cell: str) -> str:
    """Where a fact came from, as a person reads it: "cutoff methods!2:4" -> "cutoff methods, cell D2"; of a file of
    documents "update.jsonl!9:0" -> "update.jsonl, line 9"."""
    sheet, _, place = cell.rpartition("!")
    row, _, column = place.partition(":")
    if not sheet or not row.isdigit() or not column.isdigit():
        return cell
    if not int(column):
        return f"{sheet}, line {row}"
    return f"{sheet}, cell {column_letters(int(column))}{row}"


def _first_two(codes: Iterable[str]) -> tuple[str, ...]:
    made: dict[str, None] = {}
    for code in codes:
        made.setdefault(code)
        if len(made) == 2:
            break
    return tuple(made)


def _asked_for(line: RecordLine, asked: RecordsAsked) -> bool:
    only = {"critical": line.critical > 0, "less": line.less > 0, "moved": line.moved}
    words = asked.words.casefold()
    return (
        asked.state in ("", line.state)
        and only.get(asked.only, True)
        and (not words or words in f"{line.code} {line.title}".casefold())
    )


def _sorted(lines: Sequence[RecordLine], sort: str) -> list[RecordLine]:
    match sort:
        case "title":
            return sorted(lines, key=lambda one: (one.title.casefold(), one.code))
        case "code":
            return sorted(lines, key=lambda one: one.code)
        case "changes":
            return sorted(lines, key=lambda one: (-one.changes, one.title))
    return list(lines)


def _cited(record: ReviewRecord) -> set[str]:
    found: set[str] = set(references(record.document or {}))
    for change in record.changes:
        for side in (change.change.old, change.change.new, change.before):
            if side is not None and not isinstance(side, str):
                found |= set(side.sources())
    return found


def _line(one: Standing) -> RecordLine:
    line = one.line
    return RecordLine(
        code=line.code,
        title=line.title,
        action=line.action,
        state=one.state,
        changes=line.changes,
        critical=line.critical,
        less=line.less,
        more=line.more,
        moved=one.stale,
    )


def _line_of(conn: Connection, number: int) -> UpdateLine:
    found = update_lines(conn, number)
    if not found:
        raise no_update(number)
    return found[0]
