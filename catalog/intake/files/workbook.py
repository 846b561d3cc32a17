"""Workbooks: the cells as text. Formulas are never run, nor is what they came to last time believed."""

import datetime
from collections.abc import Iterable, Iterator
from typing import Any, BinaryIO

import openpyxl

from catalog.intake.files.limits import Limits
from catalog.intake.files.packed import opened
from catalog.intake.files.refusing import Refused
from catalog.intake.files.rows import Rows
from catalog.intake.files.wire import Writer

_CURE = "Open it in a spreadsheet program and save it again as a workbook (.xlsx)."


def read_workbook(file: BinaryIO, name: str, limits: Limits, out: Writer) -> None:
    """Every sheet that is shown. Raises Refused."""
    with opened(file, limits) as packed:
        members = packed.namelist()
    if any(member.lower().endswith("vbaproject.bin") for member in members):
        raise Refused("a workbook with macros", "a workbook without", "Save it as a workbook without macros (.xlsx).")
    file.seek(0)
    try:
        book = openpyxl.load_workbook(file, read_only=True, data_only=False, keep_links=False)
    except MemoryError:
        raise
    except Exception as error:  # whatever the library stumbles over in a file that is no proper workbook
        raise Refused(f"a workbook that cannot be read ({_why(error)})", "a workbook", _CURE) from error
    if len(book.sheetnames) > limits.sheets:
        raise Refused(f"{len(book.sheetnames)} sheets", f"at most {limits.sheets}", "Split it into several files.")
    for sheet in book.worksheets:
        if sheet.sheet_state != "visible":
            continue
        try:
            _read_sheet(sheet, Rows(name, sheet.title, limits, out))
        except Refused as refused:
            refused.sheet = sheet.title
            raise
        except MemoryError:
            raise
        except Exception as error:
            raise Refused(
                f"a sheet that cannot be read ({_why(error)})", "a sheet", _CURE, sheet=sheet.title
            ) from error


def _read_sheet(sheet: Any, rows: Rows) -> None:
    # What a sheet says of its own size is not believed: it would be filled up with empty cells.
    sheet.reset_dimensions()
    for number, cells in enumerate(sheet.iter_rows(), 1):
        if cells:
            rows.take(number, _texts(cells, number, rows))


def _texts(cells: Iterable[Any], number: int, rows: Rows) -> Iterator[tuple[int, str]]:
    for cell in cells:
        value = cell.value
        if value is None:
            continue
        if cell.data_type == "f":
            cure = "Copy it and paste it as its value."
            rows.finding(number, cell.column, f"the formula {_short(value)}", "a value: formulas are never run", cure)
        elif cell.data_type == "e":
            rows.finding(number, cell.column, f"the error {value}", "a value", "Write what belongs there.")
        elif text := text_of(value):
            yield cell.column, text


def text_of(value: object) -> str:
    """A cell's value as a person sees it."""
    match value:
        case str():
            return value.strip()
        case bool():
            return "TRUE" if value else "FALSE"
        case float():
            return str(int(value)) if value.is_integer() and abs(value) < 1e15 else format(value, ".15g")
        case datetime.datetime():
            return value.date().isoformat() if value.time() == datetime.time() else value.isoformat(" ")
        case datetime.date() | datetime.time():
            return value.isoformat()
        case _:
            return str(value).strip()


def _short(value: object) -> str:
    text = str(value)
    return text if len(text) <= 60 else f"{text[:60]}…"


def _why(error: BaseException) -> str:
    return f"{type(error).__name__}: {error}"[:120]
