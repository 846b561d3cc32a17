"""A workbook of what a file holds, with every finding at its cell: a colour, a note in words, and a list of them all.

It is made from the rows that were read, not from the file itself: nothing of a file that nobody vouches for is opened
a second time, formulas are gone, and CSV files come back the same way. Every text stands where it stood.
"""

import io
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter

from catalog.domain.findings import Severity
from catalog.intake.finding import Finding
from catalog.intake.packing import LAST_ROW, Texts, pack, row
from catalog.intake.sheets import Row, Sheet

MOST_NOTES = 5_000  # beyond it cells are coloured still and stand in the list, without a note of their own
_AUTHOR = "Chockbook"
_LIST = "findings"
_HEADINGS = ("severity", "where", "record", "found", "what may stand there", "what to do", "fact")
_WIDTHS = (14, 30, 16, 40, 50, 50, 30)
_FILLS = {Severity.BLOCKS: "F4B6A6", Severity.LOOK: "F6DE9A", Severity.NOTE: "D5DCE6"}
_WORST = (Severity.BLOCKS, Severity.LOOK, Severity.NOTE)
_BAD_IN_TITLES = str.maketrans("[]:*?/\\", "       ")

Place = tuple[int, int]  # row, column


def marked_copy(sheets: Sequence[Sheet], findings: Sequence[Finding]) -> bytes:
    """The workbook file. sheets: as they were read. findings: of those sheets; others are in the list alone."""
    book = Workbook()
    styles = _list_findings(book.active, findings)
    texts = Texts()
    filled: dict[int, Iterator[bytes]] = {}
    left = MOST_NOTES
    for sheet in sheets:
        page = book.create_sheet(_title(sheet.name, book.sheetnames))
        marks = _marks(sheet, findings)
        for place, said in sorted(marks.items())[:left]:
            page.cell(*place).comment = Comment("\n\n".join(map(words, said)), _AUTHOR, 160, 360)
        left = max(0, left - len(marks))
        for cell in sheet.headings:
            page.column_dimensions[get_column_letter(cell.column)].width = 24
        page.freeze_panes = page.cell(min(sheet.headings[0].row + 1, LAST_ROW) if sheet.headings else 1, 1)
        filled[len(book.sheetnames)] = _rows(sheet, marks, styles, texts)
    saved = io.BytesIO()
    book.save(saved)
    made = io.BytesIO()
    pack(saved.getvalue(), filled, texts, made)
    return made.getvalue()


def words(finding: Finding) -> str:
    """A finding as its note says it."""
    allowed = f"{finding.allowed[:1].upper()}{finding.allowed[1:]}"
    return f"{finding.severity.upper()}: {finding.found}. {allowed}. {finding.cure}".strip()


def _marks(sheet: Sheet, findings: Sequence[Finding]) -> Mapping[Place, list[Finding]]:
    """Cell -> what is said of it, the worst first. A row is marked in its first cell, a sheet in its first heading."""
    first = sheet.headings[0] if sheet.headings else None
    starts = {cells[0].row: cells[0].column for cells in sheet.rows if cells}
    made: dict[Place, list[Finding]] = {}
    for finding in sorted(findings, key=lambda one: _WORST.index(one.severity)):
        if finding.sheet != sheet.name or (sheet.file and finding.file != sheet.file):
            continue
        at = finding.row or (first.row if first else 1)
        column = finding.column or starts.get(at, first.column if first else 1)
        made.setdefault((at, column), []).append(finding)
    return made


def _rows(
    sheet: Sheet, marks: Mapping[Place, list[Finding]], styles: Mapping[object, int], texts: Texts
) -> Iterator[bytes]:
    by_row: dict[int, dict[int, Severity]] = {}
    for (at, column), said in marks.items():
        by_row.setdefault(at, {})[column] = said[0].severity
    for cells in (sheet.headings, *sheet.rows):
        if cells:
            yield _row(cells, by_row.get(cells[0].row, {}), styles, texts).encode()


def _row(cells: Row, marked: Mapping[int, Severity], styles: Mapping[object, int], texts: Texts) -> str:
    number = cells[0].row
    said = {cell.column: cell.text for cell in cells} | {
        column: "" for column in marked if column not in [cell.column for cell in cells]
    }
    return row(
        number,
        (
            texts.cell(f"{get_column_letter(column)}{number}", styles[marked.get(column)], text)
            for column, text in sorted(said.items())
        ),
    )


def _list_findings(page: Any, findings: Sequence[Finding]) -> Mapping[object, int]:
    """Fill the list of findings. Returns the styles of cells by severity, and of those nothing is said of."""
    page.title = _LIST
    for at, (heading, width) in enumerate(zip(_HEADINGS, _WIDTHS, strict=True), 1):
        page.cell(1, at, heading).font = Font(bold=True)
        page.column_dimensions[get_column_letter(at)].width = width
    page.freeze_panes = "A2"
    wrap = Alignment(wrap_text=True, vertical="top")
    for at, one in enumerate(findings[: LAST_ROW - 20], 2):
        said = (str(one.severity), one.place, one.record, one.found, one.allowed, one.cure, one.path)
        for column, text in enumerate(said, 1):
            cell = page.cell(at, column)
            _as_text(cell, text)
            cell.alignment = wrap
        page.cell(at, 1).fill = PatternFill("solid", start_color=_FILLS[one.severity])
    styles: dict[object, int] = {}
    for at, severity in enumerate((None, *_WORST), len(findings) + 4):
        cell = page.cell(at, 1)
        cell.number_format, cell.alignment = "@", wrap
        if severity is not None:
            cell.fill = PatternFill("solid", start_color=_FILLS[severity])
            cell.value = f"cells in this colour: {severity}"
        styles[severity] = int(cell.style_id)
    return styles


def _as_text(cell: Any, text: str) -> None:
    """A text that begins like a formula stays a text."""
    cell.value = "".join(char for char in text if char >= " " or char == "\n")[:32_000]
    cell.data_type = "s"


def _title(name: str, taken: Sequence[str]) -> str:
    bare = name.translate(_BAD_IN_TITLES).strip(" '")[:28] or "sheet"
    lower = [title.lower() for title in taken]
    title, count = bare, 2
    while title.lower() in lower:
        title, count = f"{bare} {count}", count + 1
    return title
