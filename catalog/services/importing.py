"""A guide update from a file: read, laid over what is listed, checked, and, with an account, proposed for review.

Nothing of the catalogue changes here, and nothing is stored before all of a file was checked, and then all of it at
once. So it may be stopped or killed at any time: the same file again starts over, or, where it was stored already, is
known and says so. A record that something blocks is left out and said so; the others can go to review.
"""

import hashlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from sqlalchemy import Connection

from catalog.domain.roles import Right
from catalog.domain.upgrade import upgrade
from catalog.errors import BadInput
from catalog.intake.files import read_file
from catalog.intake.finding import Finding, Severity
from catalog.intake.mapping import RecordRows
from catalog.intake.marked import marked_copy
from catalog.intake.template import template
from catalog.services.acting import Actor, require
from catalog.services.house import House
from catalog.services.importing_brought import Brought, brought
from catalog.services.importing_listed import Listed, read_listed
from catalog.services.importing_matching import minter
from catalog.services.importing_records import Checking
from catalog.services.importing_sources import check_sources
from catalog.services.importing_views import CheckedRecord, CheckedUpdate, Outcome
from catalog.services.proposing import Proposed, ProposedRecord, propose_once
from catalog.store import read as store
from catalog.store.engine import read
from schemas.imports import import_document

T = TypeVar("T")
Watch = Callable[[Iterable[Any]], Iterator[Any]]

_ORDER = {Severity.BLOCKS: 0, Severity.LOOK: 1, Severity.NOTE: 2}
# A file of nothing but faults is told by its first ones.
MOST_FINDINGS = 20_000


@dataclass(frozen=True, slots=True)
class BroughtFile:
    """A file as somebody brings it. encoding: of text that is not UTF-8, "" where it is.

    disputed: "CODE:PATH" of facts to keep as disputed where the file contradicts what is listed. reason: why, for the
    history; "" for the file's name.
    """

    name: str
    data: bytes
    encoding: str = ""
    disputed: frozenset[str] = frozenset()
    reason: str = ""

    @property
    def hash(self) -> str:
        """SHA-256, lower-case hex."""
        return hashlib.sha256(self.data).hexdigest()


def check_update(house: House, file: BroughtFile, watch: Watch = iter) -> CheckedUpdate:
    """Hold a file against what is listed. No account is needed: nothing is stored.

    watch: is handed the records as they are gone through, to say how far it is. Raises Unavailable.
    """
    contents = read_file(file.data, file.name, file.encoding)
    with read(house.engine) as conn:
        listed = read_listed(conn)
        told = brought(contents, lambda rows: _as_listed(conn, listed, rows))
        sources, found = check_sources(told.sources, listed)
        findings = [*contents.findings, *told.findings, *found]
        checking = Checking(house, conn, listed, sources, file, told.codes)
        records: list[CheckedRecord] = []
        unchanged = 0
        for one in watch(told.records):
            record, about = checking.check(_blocked(one, told.blocked_sheets))
            findings += about
            if record.outcome is Outcome.UNCHANGED:
                unchanged += 1
            else:
                records.append(record)
        records = checking.without_twice(records)
        findings += checking.links()
    return _update(file, listed.number, records, unchanged, findings, sources.new)


def propose_update(house: House, actor: Actor | None, file: BroughtFile, watch: Watch = iter) -> CheckedUpdate:
    """Check a file and send what nothing blocks to review. The same again is known and stored once.

    Raises NotSignedIn, Forbidden, Unavailable.
    """
    require(actor, Right.UPDATE)
    checked = check_update(house, file, watch)
    return propose_checked(house, actor, checked, file)


def propose_checked(house: House, actor: Actor | None, checked: CheckedUpdate, file: BroughtFile) -> CheckedUpdate:
    """Send what nothing blocks of a checked file to review; as it was where there is nothing to send.

    Raises NotSignedIn, Forbidden, BadInput where the check was of another file.
    """
    require(actor, Right.UPDATE)
    if file.hash != checked.file_hash:
        raise BadInput("That is not the file that was checked.", cure="Bring the file again.")
    if not checked.proposable and not checked.sources:
        return checked
    with read(house.engine) as conn:
        coded = _with_codes(conn, checked)
    records = tuple(
        ProposedRecord(one.code, one.base, one.document, one.reason, one.cells)
        for one in coded
        if one.outcome is not Outcome.LEFT_OUT
    )
    findings = tuple(told(finding) for finding in checked.findings)
    number, again = propose_once(
        house, actor, Proposed(file.name, file.hash, "import", records, checked.sources, findings, file.data)
    )
    return replace(checked, records=coded, update=number, again=again)


def told(finding: Finding) -> dict[str, Any]:
    """A finding as it is stored and answered."""
    return {
        "file": finding.file,
        "sheet": finding.sheet,
        "row": finding.row,
        "column": finding.column,
        "place": finding.place,
        "record": finding.record,
        "path": finding.path,
        "found": finding.found,
        "allowed": finding.allowed,
        "cure": finding.cure,
        "severity": str(finding.severity),
    }


def _with_codes(conn: Connection, checked: CheckedUpdate) -> tuple[CheckedRecord, ...]:
    minted = minter(checked.file_hash, lambda code: bool(store.history(conn, code)))
    new = (Outcome.ADDED,)
    return tuple(
        replace(one, code=minted(one.key)) if one.outcome in new and not one.code else one for one in checked.records
    )


def _as_listed(conn: Connection, listed: Listed, records: Sequence[RecordRows]) -> frozenset[str]:
    asked = {listed.records[rows.code].revision: rows for rows in records if rows.code in listed.records}
    stored = store.revisions_of(conn, list(asked))
    return frozenset(one.code for one in stored if asked[one.hash].same_as(upgrade(one.document)))


def _blocked(one: Brought, sheets: frozenset[str]) -> Brought:
    """A record of which a whole column could not be read is not taken in part."""
    touched = sorted(sheets & {where.sheet for where in one.given.cells.values()})
    if not touched:
        return one
    found, cure = f"a column of sheet {touched[0]} that cannot be read", "Put its heading right."
    finding = Finding(one.where.file, touched[0], one.where.row, 0, found, "all of what the file says of it", cure)
    return replace(one, findings=(*one.findings, finding))


def _update(
    file: BroughtFile,
    edition: int,
    records: list[CheckedRecord],
    unchanged: int,
    findings: list[Finding],
    new_sources: dict[str, dict[str, Any]],
) -> CheckedUpdate:
    counts = {str(outcome): sum(one.outcome is outcome for one in records) for outcome in Outcome}
    counts |= {str(Outcome.UNCHANGED): unchanged, "sources": len(new_sources)}
    findings.sort(key=lambda finding: _ORDER[finding.severity])
    return CheckedUpdate(
        file.name, file.hash, edition, counts, records, new_sources, tuple(dict.fromkeys(findings))[:MOST_FINDINGS]
    )


def marked_file(file: BroughtFile, findings: Sequence[Finding]) -> bytes:
    """The file as a workbook with the cells marked that something was found in, and every finding listed."""
    return marked_copy(read_file(file.data, file.name, file.encoding).sheets, findings)


def template_file() -> bytes:
    """A workbook to fill in: lists to choose from, units, notes, and one filled example, which is invented."""
    return template()


def answered(checked: CheckedUpdate, cautions: tuple[str, ...] = ()) -> dict[str, Any]:
    """What the API and the terminal answer, as a document."""
    return import_document(checked, [told(finding) for finding in checked.findings], cautions)
