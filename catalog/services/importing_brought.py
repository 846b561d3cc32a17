"""What a file says of which record, whichever kind of file it is: one after the other, in its order."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Any

from catalog.domain import codes
from catalog.intake.applying import apply
from catalog.intake.documents import DocumentGiven, SourceGiven, document_of, read_document
from catalog.intake.finding import Finding, Severity
from catalog.intake.given import Given, Where
from catalog.intake.mapping import RecordRows, Records
from catalog.intake.sheets import Contents, Document, Sheet
from catalog.intake.sourcing import sources_of

Content = dict[str, Any]
AsListed = Callable[[Sequence[RecordRows]], Collection[str]]  # codes of those whose rows are as listed
_AT_A_TIME = 50


@dataclass(frozen=True, slots=True)
class Brought:
    """What a file says of one record. told: where it came as JSON. findings: what could not be read of it.

    as_listed: its rows are, cell by cell, those of what is listed; they were not read, and `given` holds no more than
    whose they are.
    """

    given: Given
    where: Where
    told: DocumentGiven | None = None
    findings: tuple[Finding, ...] = ()
    as_listed: bool = False

    @property
    def text(self) -> bytes:
        """A whole document's bytes: an unchanged one is known by their hash. b"" otherwise."""
        return self.told.text if self.told is not None and not self.told.partial else b""

    def content(self) -> Content:
        """The JSON document it came as; empty for rows."""
        made: Content = Document(0, self.told.text).content if self.told is not None and self.told.text else {}
        return made

    def over(self, base: Mapping[str, Any] | None) -> tuple[Content, tuple[Finding, ...]]:
        """The document as it would be, and what was wrong in making it. base: as it stands."""
        if self.told is None:
            return apply(base, self.given)
        return document_of(base, self.told, self.content()), ()


@dataclass(frozen=True, eq=False)
class Told:
    """A whole file. sources: by "NUMBER/ISSUE", with where each stands. blocked_sheets: of which a column is unread.

    codes: every code that is given.
    """

    records: "Sequence[Brought] | _Stream"
    sources: Mapping[str, tuple[Content, Where]]
    findings: tuple[Finding, ...]
    blocked_sheets: frozenset[str]
    codes: frozenset[str] = frozenset()


def brought(contents: Contents, as_listed: AsListed) -> Told:
    """What a file says. Nothing of a file that was refused.

    as_listed: of which records the rows are those of what is listed, so that they need not be read. It is not asked
    where something of the sheets could not be read, or where documents beside them may say otherwise.
    """
    if contents.refused:
        return Told((), {}, (), frozenset())
    records = Records(contents.sheets, contents.file)
    documents, places, unread = sources_of(contents.sheets, contents.file)
    sources = {key: (document, places[key]) for key, document in documents.items()}
    read, from_json, wrong = _documents(contents)
    sources |= from_json
    findings = [*records.findings, *unread, *wrong]
    if not len(records) and not read and not sources and not findings and not contents.findings:
        cure = "Begin with the template: chockbook import --template FILE."
        findings.append(Finding(contents.file, "", 0, 0, "nothing", "rows or documents of records", cure))
    headings = {sheet.name: sheet.headings[0].row for sheet in contents.sheets if sheet.headings}
    blocked = frozenset(
        finding.sheet
        for finding in (*records.findings, *contents.findings)
        if finding.severity is Severity.BLOCKS and finding.row == headings.get(finding.sheet) and finding.column
    )
    given = records.codes | {told.given.code for _, told in read}
    alone = not read and not blocked and not any(one.sheet for one in contents.findings)
    stream = _Stream(contents, records, read, as_listed if alone else None)
    return Told(stream, sources, tuple(findings), blocked, given - {""})


class _Stream:
    """Records of the sheets, then of the documents, read as they are asked for."""

    def __init__(
        self,
        contents: Contents,
        records: Records,
        documents: Sequence[tuple[int, DocumentGiven]],
        as_listed: AsListed | None,
    ) -> None:
        self._contents, self._records, self._documents, self._as_listed = contents, records, documents, as_listed
        self._unread = {(one.sheet, one.row): one for one in contents.findings if one.sheet and one.row}

    def __len__(self) -> int:
        return len(self._records) + len(self._documents)

    def __iter__(self) -> Iterator[Brought]:
        whose = _Whose(self._contents.sheets, self._unread) if self._unread else None
        for rows, as_listed in self._rows():
            if as_listed:
                yield Brought(Given(rows.code, rows.name, cells={"": rows.where}), rows.where, as_listed=True)
                continue
            given = rows.read()
            where = next(iter(given.cells.values()), Where(self._contents.file, "", 0, 0))
            unread = whose.of(given) if whose is not None else ()
            yield Brought(given, where, None, (*given.findings, *unread))
        for position, told in self._documents:
            text = b"" if told.given.action else self._contents.documents[position].text
            yield Brought(told.given, told.given.cells[""], replace(told, text=text))

    def _rows(self) -> Iterator[tuple[RecordRows, bool]]:
        """Records of the sheets, and whether each is as listed; asked, and so fetched, some at a time."""
        raw = self._records.raw()
        while some := list(islice(raw, _AT_A_TIME)):
            same = self._as_listed(some) if self._as_listed is not None else frozenset()
            yield from ((rows, rows.code in same) for rows in some)


class _Whose:
    """Which record a cell that could not be read at all belongs to: the one its row names."""

    def __init__(self, sheets: Sequence[Sheet], unread: Mapping[tuple[str, int], Finding]) -> None:
        self._by_code: dict[str, list[Finding]] = {}
        for sheet in sheets:
            wanted = {row: finding for (name, row), finding in unread.items() if name == sheet.name}
            for row in sheet.rows if wanted else ():
                if row[0].row in wanted:
                    for cell in row:
                        if (code := codes.parse(cell.text)) is not None:
                            self._by_code.setdefault(code, []).append(wanted[row[0].row])
                            break
        self._unread = unread

    def of(self, given: Given) -> tuple[Finding, ...]:
        """They block it: what the cell says is not known, so the rest would be taken in part."""
        rows = {(where.sheet, where.row) for where in given.cells.values()}
        found = [*self._by_code.get(given.code, ()), *(self._unread[row] for row in rows & self._unread.keys())]
        told = (replace(one, found="a cell that could not be read", allowed="all of its cells") for one in found)
        return tuple(dict.fromkeys(told))


def _documents(
    contents: Contents,
) -> tuple[list[tuple[int, DocumentGiven]], dict[str, tuple[Content, Where]], list[Finding]]:
    """Records without their texts, which are read again one by one; sources; what is neither."""
    read: list[tuple[int, DocumentGiven]] = []
    sources: dict[str, tuple[Content, Where]] = {}
    findings: list[Finding] = []
    for position, document in enumerate(contents.documents):
        match read_document(document, contents.file):
            case DocumentGiven() as told:
                read.append((position, replace(told, text=b"")))
            case SourceGiven(content, where):
                key = f"{content.get('number')}/{content.get('issue')}"
                before, at = sources.setdefault(key, (content, where))
                if before != content:
                    allowed, cure = f"each source once; it stands at {at.row} too", "Keep one of the two."
                    findings.append(Finding(where.file, "", where.row, 0, f"{key} again", allowed, cure))
            case Finding() as finding:
                findings.append(finding)
    return read, sources, findings
