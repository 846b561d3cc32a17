"""Rows of the sheets of sources -> source documents."""

from collections.abc import Mapping, Sequence
from typing import Any

from catalog.intake.claims import read_plain
from catalog.intake.finding import Finding
from catalog.intake.given import EXAMPLE, Where
from catalog.intake.groups import Holds, Rows
from catalog.intake.headings import Plan, plan_of
from catalog.intake.sheets import Row, Sheet
from catalog.intake.values import tidy

Document = dict[str, Any]


def sources_of(
    sheets: Sequence[Sheet], file: str
) -> tuple[dict[str, Document], Mapping[str, Where], tuple[Finding, ...]]:
    """The sources a file brings, by key NUMBER/ISSUE, whole; the row each stands in; and what is wrong in those sheets.

    Findings of their headings come with the records. A text of a source that is not in the file is a finding.
    """
    made: dict[str, Document] = {}
    places: dict[str, Where] = {}
    findings: list[Finding] = []
    texts: list[tuple[Plan, Sheet]] = []
    for sheet in sheets:
        plan, _ = plan_of(sheet, sheet.file or file)
        if plan is None or plan.group.rows not in (Rows.SOURCES, Rows.TEXTS):
            continue
        if plan.group.rows is Rows.TEXTS:
            texts.append((plan, sheet))
            continue
        for row in sheet.rows:
            where = Where(sheet.file or file, sheet.name, row[0].row, 0)
            document = _document(plan, where, row, findings)
            if str(document.get("number")).startswith(EXAMPLE):
                continue
            key = f"{document.get('number')}/{document.get('issue')}"
            if key in made and made[key] != document:
                allowed = f"each source once; it is in row {places[key].row} too"
                findings.append(Finding(where.file, where.sheet, where.row, 0, key, allowed, "Keep one of the rows."))
                continue
            made[key], places[key] = document, where
    for plan, sheet in texts:
        for row in sheet.rows:
            where = Where(sheet.file or file, sheet.name, row[0].row, 0)
            section = _document(plan, where, row, findings)
            if str(section.get("number")).startswith(EXAMPLE):
                continue
            key = f"{section.pop('number', '')}/{section.pop('issue', '')}"
            if key not in made:
                cure = "Add its row to the sheet of sources."
                findings.append(
                    Finding(where.file, where.sheet, where.row, 0, f"a text of {key}", "a source in this file", cure)
                )
                continue
            made[key].setdefault("sections", []).append(section)
    return made, places, tuple(findings)


def _document(plan: Plan, where: Where, row: Row, findings: list[Finding]) -> Document:
    made: Document = {}
    for cell in row:
        placed = plan.columns.get(cell.column)
        if placed is None or placed.column.holds is not Holds.PLAIN or placed.column.kind is None:
            continue
        read = read_plain(placed.column.kind, tidy(cell.text), placed.assumed)
        for problem in read.problems:
            said = (problem.found, problem.allowed, problem.cure, problem.severity, placed.column.key)
            findings.append(Finding(where.file, where.sheet, cell.row, cell.column, *said))
        if read.value:
            made[placed.column.key] = read.value[0]
    return made
