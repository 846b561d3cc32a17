"""Exported rows as the sheets a reader makes of them: what tests of the mapping start from."""

from collections.abc import Iterable, Mapping
from typing import Any

from catalog.intake.groups import GROUPS, Group, Rows
from catalog.intake.rows import rows_of, source_rows
from catalog.intake.sheets import Cell, Sheet

Table = dict[str, list[list[str]]]


def table_of(records: Mapping[str, Any], sources: Iterable[Mapping[str, Any]] = ()) -> Table:
    """Group key -> rows of text, the headings first."""
    made: Table = {group.key: [[column.written for column in group.columns]] for group in GROUPS}
    for code, document in records.items():
        for group, row in rows_of(code, document):
            made[group.key].append(row)
    for source in sources:
        for group, row in source_rows(source):
            made[group.key].append(row)
    return made


def sheets_of(table: Table) -> list[Sheet]:
    """As a file reader hands them over: no empty cells, ends trimmed."""
    return [
        Sheet(key, _cells(rows[0], 1), [_cells(row, at) for at, row in enumerate(rows[1:], 2)])
        for key, rows in table.items()
    ]


def column_of(group: Group, heading: str) -> int:
    """Position of a column from 0 by its heading. Raises ValueError."""
    return [column.heading for column in group.columns].index(heading)


def _cells(row: list[str], at: int) -> tuple[Cell, ...]:
    return tuple(Cell(text.strip(), at, column) for column, text in enumerate(row, 1) if text.strip())


__all__ = ["Rows", "Table", "column_of", "sheets_of", "table_of"]
