"""Workbooks: the cells as text. Formulas are never run, nor is what they came to last time believed."""

import datetime
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Any, BinaryIO

import openpyxl
from openpyxl.utils.datetime import from_excel, from_ISO8601
from openpyxl.utils.escape import unescape
from openpyxl.worksheet._read_only import ReadOnlyWorksheet

from catalog.intake.files.limits import Limits, Share
from catalog.intake.files.packed import opened
from catalog.intake.files.refusing import Refused
from catalog.intake.files.rows import Rows
from catalog.intake.files.sheet_xml import RawCell, read_rows
from catalog.intake.files.wire import Writer

_CURE = "Open it in a spreadsheet program and save it again as a workbook (.xlsx)."


# Opening a sheet that does not say its size goes over all of it to find out, before any limit can be kept.
ReadOnlyWorksheet._get_size = lambda _: None


def read_workbook(file: BinaryIO, name: str, limits: Limits, out: Writer, share: Share = (0, 1)) -> None:
    """Every sheet that is shown and is dealt to this share. Raises Refused."""
    with opened(file, limits) as packed:
        members = {member.filename: member.file_size for member in packed.infolist()}
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
    shown = [(at, sheet) for at, sheet in enumerate(book.worksheets) if sheet.sheet_state == "visible"]
    dealt = deal([members.get(sheet._worksheet_path.lstrip("/"), 0) for _, sheet in shown], share[1])
    for (at, sheet), whose in zip(shown, dealt, strict=True):
        if whose != share[0]:
            continue
        try:
            _read_sheet(sheet, Rows(name, sheet.title, limits, out, at))
        except Refused as refused:
            refused.sheet = sheet.title
            raise
        except MemoryError:
            raise
        except Exception as error:
            raise Refused(
                f"a sheet that cannot be read ({_why(error)})", "a sheet", _CURE, sheet=sheet.title
            ) from error


def deal(sizes: Sequence[int], shares: int) -> list[int]:
    """Which share each of so many things goes to, so that the shares weigh about the same; always the same deal."""
    made = [0] * len(sizes)
    weights = [0] * shares
    for at in sorted(range(len(sizes)), key=lambda at: -sizes[at]):
        made[at] = weights.index(min(weights))
        weights[made[at]] += sizes[at]
    return made


def _read_sheet(sheet: Any, rows: Rows) -> None:
    texts = _Texts(sheet, rows)
    with sheet._get_source() as source:
        read_rows(source, lambda number, cells: rows.take(number, texts.of(number, cells)))


class _Texts:
    """The cells of a sheet as text. What the library knows of the workbook stands ready: its strings and styles."""

    def __init__(self, sheet: Any, rows: Rows) -> None:
        book = sheet.parent
        self._rows = rows
        self._strings: Sequence[str] = sheet._shared_strings
        self._shared: dict[str, str] = {}  # those met so far, by their number as it is written
        self._dates: Collection[int] = book._date_formats
        self._spans: Collection[int] = book._timedelta_formats
        self._epoch = book.epoch

    def of(self, number: int, cells: Iterable[RawCell]) -> Iterator[tuple[int, str]]:
        """(column, text) of those that hold a value."""
        for column, kind, style, raw, formula in cells:
            if formula:
                cure = "Copy it and paste it as its value."
                found = f"the formula ={_short(raw)}" if raw else "a formula"
                self._rows.finding(number, column, found, "a value: formulas are never run", cure)
            elif kind == "e":
                self._rows.finding(number, column, f"the error {raw}", "a value", "Write what belongs there.")
            elif text := self._text(kind, style, raw):
                yield column, text

    def _text(self, kind: str, style: int, raw: str) -> str:
        match kind:
            case "s":
                text = self._shared.get(raw)
                if text is None:
                    text = self._shared[raw] = _plain(self._strings[int(raw)])
                return text
            case "inlineStr" | "str":
                return _plain(raw)
            case "b":
                return text_of(raw.strip() in ("1", "true"))
            case "n":
                if style in self._dates:
                    return text_of(from_excel(float(raw), self._epoch, timedelta=style in self._spans))
                return raw if raw.isdigit() and len(raw) < 15 else text_of(float(raw))
            case "d":
                return text_of(from_ISO8601(raw))
        return raw.strip()


def _plain(text: str) -> str:
    return str(unescape(text)).strip() if "_x" in text else text.strip()


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
