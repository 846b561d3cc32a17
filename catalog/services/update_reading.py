"""One guide update to look at: its records as they are asked for, one of them, what was said of it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import chain, islice
from typing import Any

from sqlalchemy import Connection

from catalog.domain.documents import references
from catalog.domain.roles import Right
from catalog.domain.sources import Source, parse_reference, source_from_document
from catalog.intake.finding import Severity, column_letters
from catalog.services.acting import Actor, require
from catalog.services.clock import moment_of
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.records import parsed_code
from catalog.services.review_matters import known_update, no_update, record_in
from catalog.services.review_records import ReviewRecord
from catalog.services.review_rules import check_two_persons
from catalog.services.update_findings import findings_of
from catalog.services.update_standings import RecordLine, standings_of
from catalog.services.updates import UpdateSummary, summary_of
from catalog.store import read as store
from catalog.store.engine import read
from catalog.store.tables_updates import COMMENT, REOPEN, SET_ASIDE
from catalog.store.updates import OPEN, UpdateLine, remarks, update_file, update_lines, update_sources

# How the records of an update may be sorted; the first is used where nothing is asked for.
RECORD_SORTS = ("pressing", "title", "code", "changes")


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

    @property
    def blocking(self) -> int:
        """How many findings block."""
        return sum(one["severity"] == Severity.BLOCKS for one in self.findings)


@dataclass(frozen=True, slots=True)
class RecordsAsked:
    """state: one of those a record may stand in; "" for all. only: "critical", "less" (cautious), "moved"; "" for all.
    words: all in its title or code. beside: a record's code: the part of the list that it stands in, not `offset`; ""
    for none."""

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
        standing = standings_of(conn, line.update)
        said = [
            Remark(one.kind, one.author, moment_of(one.time_us), one.words)
            for one in remarks(conn, number)
            if one.kind in (COMMENT, SET_ASIDE, REOPEN)
        ]
        findings, sources = findings_of(conn, number), update_sources(conn, number)
    lines = standing.lines
    kept = _sorted(list(filter(_asked_for(asked), lines)), asked.sort)
    at = next((place for place, one in enumerate(kept) if asked.beside and one.code == asked.beside), None)
    offset = asked.offset if at is None else at - at % asked.limit
    ahead = chain(islice(kept, at or 0, None), islice(kept, at or 0), lines)
    return UpdateView(
        summary=summary_of(line),
        states=dict(standing.states),
        lines=tuple(kept[offset : offset + asked.limit]),
        total=len(kept),
        offset=offset,
        undecided=_first_two(one.code for one in ahead if one.state == OPEN),
        findings=findings,
        sources=tuple(sorted(sources)),
        remarks=tuple(said),
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


def _asked_for(asked: RecordsAsked) -> Callable[[RecordLine], bool]:
    only: Callable[[RecordLine], bool] | None = {
        "critical": lambda line: line.critical > 0,
        "less": lambda line: line.less > 0,
        "moved": lambda line: line.moved,
    }.get(asked.only)
    said = with_words(asked.words) if asked.words.strip() else None

    def asked_for(line: RecordLine) -> bool:
        return (
            asked.state in ("", line.state)
            and (only is None or only(line))
            and (said is None or said(f"{line.code} {line.title}"))
        )

    return asked_for


def _sorted(lines: list[RecordLine], sort: str) -> list[RecordLine]:
    match sort:
        case "title":
            return sorted(lines, key=lambda one: (one.title.casefold(), one.code))
        case "code":
            return sorted(lines, key=lambda one: one.code)
        case "changes":
            return sorted(lines, key=lambda one: (-one.changes, one.title))
    return lines


def _cited(record: ReviewRecord) -> set[str]:
    found: set[str] = set(references(record.document or {}))
    for change in record.changes:
        for side in (change.change.old, change.change.new, change.before):
            if side is not None and not isinstance(side, str):
                found |= set(side.sources())
    return found


def _line_of(conn: Connection, number: int) -> UpdateLine:
    found = update_lines(conn, number)
    if not found:
        raise no_update(number)
    return found[0]
