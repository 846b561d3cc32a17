"""Which sheet is which group, and which column is which: in any order, by our words, keys or known synonyms.

What is not known is said, with the nearest known name, and its cells stay where they are: in the file.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from catalog.domain.findings import Severity
from catalog.domain.folding import fold
from catalog.domain.spec.nodes import Number
from catalog.intake.finding import Finding
from catalog.intake.groups import BY_KEY, GROUPS, Column, Group, Holds, Rows
from catalog.intake.readings import Read
from catalog.intake.sheets import Cell, Row, Sheet
from catalog.intake.synonyms import nearest, table
from catalog.intake.units import factor, unit_named

# Sheets of our own workbooks that hold no records.
NOT_READ = ("read me", "words", "findings")
_FEWEST_KNOWN = 3  # headings that must be a group's before a sheet of another name is taken for it
_IDENTIFYING = ("make", "model", "variant", "years.from", "years.to")


@dataclass(frozen=True, slots=True)
class Placed:
    """A column of a file. at: its position from 1. assumed: the unit its heading names. names: joins rows only."""

    column: Column
    at: int
    assumed: str | None = None
    names: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """How a sheet is read. columns: by position in the file. read: cells read so far, by position and text.

    declared: no heading names another unit than the column's own.
    """

    group: Group
    columns: Mapping[int, Placed]
    read: dict[tuple[int, str], Read] = field(default_factory=dict, compare=False)
    declared: bool = field(init=False, compare=False, default=True)

    def __post_init__(self) -> None:
        declared = all(placed.assumed in (None, placed.column.unit) for placed in self.columns.values())
        object.__setattr__(self, "declared", declared)

    def says(self, row: Row, texts: Sequence[str]) -> bool:
        """Whether a row holds exactly these texts, one a column of the group, under headings in the declared units."""
        if len(texts) - texts.count("") != len(row):
            return False
        columns = self.columns
        for text, _, at in row:
            placed = columns.get(at)
            if placed is None or placed.names or text != texts[placed.column.at]:
                return False
        return self.declared


def plan_of(sheet: Sheet, file: str) -> tuple[Plan | None, tuple[Finding, ...]]:
    """How to read a sheet; None where it holds nothing we know, which is then said."""
    name = fold(sheet.name)
    if name in NOT_READ:
        return None, ()
    group = _group_named(name)
    findings: list[Finding] = []
    if group is None:
        group = _group_like(sheet)
        if group is None:
            return None, (_unknown_sheet(sheet, file),)
        allowed = f'read as "{group.key}" by its headings'
        findings.append(Finding(file, sheet.name, 0, 0, f'a sheet "{sheet.name}"', allowed, "", Severity.NOTE))
    columns: dict[int, Placed] = {}
    for cell in sheet.headings:
        placed, finding = _placed(group, cell, columns)
        if placed is not None:
            columns[cell.column] = placed
        if finding is not None:
            found, allowed, cure, severity = finding
            full = _filled(sheet, cell.column)
            if full or severity is Severity.BLOCKS:
                counted = f'heading "{found}" over {full} cells' if full else f'heading "{found}"'
                findings.append(Finding(file, sheet.name, cell.row, cell.column, counted, allowed, cure, severity))
    return Plan(group, columns), tuple(findings)


def _placed(
    group: Group, cell: Cell, taken: Mapping[int, Placed]
) -> tuple[Placed | None, tuple[str, str, str, Severity] | None]:
    bare, unit = _unit_apart(cell.text)
    known = _headings(group.key)
    column = known.get(fold(bare)) or known.get(fold(cell.text))
    names = False
    if column is None and group.rows not in (Rows.IDENTITY, Rows.SOURCES, Rows.TEXTS):
        column = _headings("identity").get(fold(bare))
        names = column is not None
        if column is not None and column.key not in _IDENTIFYING:
            column = None
    if column is None:
        near = nearest(cell.text, [c.heading for c in group.columns])
        cure = f"Did you mean {near[0]}? Rename the heading and bring the file again." if near else ""
        cure = cure or "Rename it if it belongs here; what is under it is not taken in."
        return None, (cell.text, f"a heading of {group.label}", cure, Severity.LOOK)
    if any(other.column is column for other in taken.values()):
        return None, (cell.text, f"{column.heading} once only", "Leave one of the two columns.", Severity.BLOCKS)
    assumed = unit_named(unit) if unit else None
    if unit and isinstance(column.kind, Number) and column.unit and not _fits(assumed, column.unit):
        cure = f"Write {column.unit}, or a unit that measures the same."
        return None, (cell.text, f"a unit that measures what {column.unit} measures", cure, Severity.BLOCKS)
    return Placed(column, cell.column, assumed, names), None


def _fits(unit: str | None, declared: str) -> bool:
    return unit is not None and factor(unit, declared) is not None


def _unit_apart(heading: str) -> tuple[str, str]:
    """ "voltage [kV]" and "voltage (kV)" -> ("voltage", "kV")."""
    text = heading.strip()
    for opening, closing in ("[]", "()"):
        if text.endswith(closing) and opening in text:
            before, _, inside = text[:-1].rpartition(opening)
            if opening == "[" or unit_named(inside):
                return before.strip(), inside.strip()
    return text, ""


@cache
def _headings(key: str) -> Mapping[str, Column]:
    """Folded spelling -> column: headings first, then keys, then labels and synonyms that are one column's alone."""
    group = BY_KEY[key]
    made: dict[str, Column] = {}
    by_key = {column.key: column for column in group.columns if column.holds is not Holds.FACT_SOURCE}
    for synonyms in (table("headings").get(key, {}), table("headings")[""]):
        for spelling, meant in synonyms.items():
            if meant in by_key:
                made.setdefault(fold(spelling), by_key[meant])
    labels = [column.attr.label for column in group.columns if column.attr and column.holds is Holds.FACT]
    for column in group.columns:
        if column.attr and column.holds is Holds.FACT and labels.count(column.attr.label) == 1:
            made.setdefault(fold(column.attr.label), column)
    for column in by_key.values():
        made[fold(column.key)] = column
        made[fold(f"{group.path}.{column.key}")] = column
    for column in group.columns:
        made[fold(column.heading)] = column
        made[fold(column.written)] = column
    return made


def _group_named(folded: str) -> Group | None:
    return _group_names().get(folded)


@cache
def _group_names() -> Mapping[str, Group]:
    made = {fold(spelling): BY_KEY[key] for spelling, key in table("groups").items()}
    labels = [group.label for group in GROUPS]
    made |= {fold(group.label): group for group in GROUPS if labels.count(group.label) == 1}
    made |= {fold(group.path): group for group in GROUPS}
    return made | {fold(group.key): group for group in GROUPS}


def _group_like(sheet: Sheet) -> Group | None:
    """The one group that knows most of a sheet's headings; None where two know as many."""
    texts = [fold(_unit_apart(cell.text)[0]) for cell in sheet.headings]
    common = {"code", "vehicle", "action", "reason", "source", "position"}
    scores = [(sum(text in _headings(g.key) for text in texts if text not in common), g) for g in GROUPS]
    best = max(score for score, _ in scores)
    found = [group for score, group in scores if score == best]
    return found[0] if best >= _FEWEST_KNOWN and len(found) == 1 else None


def _unknown_sheet(sheet: Sheet, file: str) -> Finding:
    keys: Sequence[str] = [group.key for group in GROUPS]
    near = nearest(sheet.name, keys)
    cure = f"Did you mean {near[0]}? Rename it." if near else "Rename it if it belongs here."
    found = f'a sheet "{sheet.name}" of {len(sheet.rows)} rows, not taken in'
    return Finding(file, sheet.name, 0, 0, found, f"sheets are {', '.join(keys)}", cure, Severity.LOOK)


def _filled(sheet: Sheet, column: int) -> int:
    return sum(any(cell.column == column for cell in row) for row in sheet.rows)
