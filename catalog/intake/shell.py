"""The workbook without its rows: sheets, headings with notes, drop-down lists, and how a cell is written."""

import io
from dataclasses import dataclass

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from catalog.intake.groups import GROUPS, Column, Group, Holds
from catalog.intake.guidance import READ_ME, actions, choices, note_of
from catalog.intake.packing import LAST_ROW

_AUTHOR = "Chockbook"
_HEAD, _OWN, _SOURCE = "1F3A5F", "3C3C3C", "5B6B7B"
_WORDS = "words"


@dataclass(frozen=True, slots=True)
class Shell:
    """data: a workbook file. sheets: group key -> position of its sheet from 1. style: of a cell with text."""

    data: bytes
    sheets: dict[str, int]
    style: int


def shell() -> Shell:
    """Every sheet with its headings, and no rows."""
    book = Workbook()
    first = book.active
    assert isinstance(first, Worksheet)
    style = _read_me(first)
    lists = _Lists()
    sheets = {}
    for group in GROUPS:
        sheet = book.create_sheet(group.key)
        _head(sheet, group, lists)
        sheets[group.key] = len(book.sheetnames)
    lists.write(book.create_sheet(_WORDS))
    made = io.BytesIO()
    book.save(made)
    return Shell(made.getvalue(), sheets, style)


class _Lists:
    """The words of drop-down lists, each list once, a column each on a sheet of its own."""

    def __init__(self) -> None:
        self._columns: dict[tuple[str, ...], str] = {}

    def range_of(self, words: tuple[str, ...]) -> str:
        letter = self._columns.setdefault(words, get_column_letter(len(self._columns) + 1))
        return f"{_WORDS}!${letter}$2:${letter}${len(words) + 1}"

    def write(self, sheet: Worksheet) -> None:
        for words, letter in self._columns.items():
            sheet[f"{letter}1"] = "may stand there"
            for at, word in enumerate(words, 2):
                sheet[f"{letter}{at}"] = word


def _read_me(sheet: Worksheet) -> int:
    """Fill the first sheet. Returns the style of cells with text."""
    sheet.title = "read me"
    sheet.column_dimensions["A"].width = 110
    for at, line in enumerate(READ_ME, 1):
        cell = sheet.cell(at, 1, line)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        cell.font = Font(bold=at == 1, size=14 if at == 1 else 11)
    pattern = sheet.cell(len(READ_ME) + 2, 1)
    pattern.number_format = "@"
    pattern.alignment = Alignment(wrap_text=True, vertical="top")
    return int(pattern.style_id)


def _head(sheet: Worksheet, group: Group, lists: _Lists) -> None:
    for at, column in enumerate(group.columns, 1):
        letter = get_column_letter(at)
        cell = sheet.cell(1, at, column.written)
        cell.font = Font(bold=column.holds is not Holds.FACT_SOURCE, color="FFFFFF")
        cell.fill = PatternFill("solid", start_color=_colour(column))
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        cell.comment = Comment(note_of(group, column), _AUTHOR, 160, 320)
        sheet.column_dimensions[letter].width = _width(column)
        sheet.column_dimensions[letter].number_format = "@"
        offered = actions(group) if column.holds is Holds.ACTION else choices(column)
        if offered:
            rule = DataValidation("list", formula1=lists.range_of(offered), allow_blank=True, showErrorMessage=False)
            rule.add(f"{letter}2:{letter}{LAST_ROW}")
            sheet.add_data_validation(rule)
    named = sum(column.holds not in (Holds.FACT, Holds.FACT_SOURCE, Holds.PLAIN) for column in group.columns)
    sheet.freeze_panes = f"{get_column_letter(min(named, 4) + 1)}2"
    sheet.row_dimensions[1].height = 45


def _colour(column: Column) -> str:
    if column.holds in (Holds.FACT_SOURCE, Holds.ROW_SOURCE):
        return _SOURCE
    return _HEAD if column.holds in (Holds.FACT, Holds.PLAIN) else _OWN


def _width(column: Column) -> float:
    match column.holds:
        case Holds.CODE | Holds.ACTION | Holds.POSITION | Holds.ITEM:
            return 12
        case Holds.FACT_SOURCE | Holds.ROW_SOURCE:
            return 16
    return 28
