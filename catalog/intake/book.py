"""Rows into a workbook, one after the other, in bounded memory.

The shell comes from the workbook library; the rows are written into its sheets as text here, because the library
writes every text where it stands, which takes ten times as long to read back. Texts that repeat stand once, in the
workbook's table of shared texts (ECMA-376 part 1, 18.4), up to a limit; the others stand in their cells.
"""

import io
import re
import tempfile
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from itertools import chain
from typing import BinaryIO

from openpyxl.utils import get_column_letter

from catalog.errors import BadInput
from catalog.intake.groups import GROUPS, Group
from catalog.intake.rows import Row
from catalog.intake.shell import LAST_ROW, Shell, shell

LONGEST_CELL = 32_767  # UTF-16 units, of the file format's usual reader
_SHARED = 200_000  # texts kept once; what they take in memory is the limit of an export's
_LONGEST_SHARED = 120  # characters; longer ones seldom come twice
_HEAD = (
    b'<?xml version="1.0" encoding="UTF-8"?>\n<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
)
# Where the shell must say that there are shared texts: before what, and how.
_MENTIONS = {
    "[Content_Types].xml": (
        b"</Types>",
        b'<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.'
        b'spreadsheetml.sharedStrings+xml" />',
    ),
    "xl/_rels/workbook.xml.rels": (
        b"</Relationships>",
        b'<Relationship Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" '
        b'Target="sharedStrings.xml" Id="rIdTexts" />',
    ),
}
_DIMENSION = re.compile(rb"<dimension [^>]*/>")  # of the headings alone; may be left out
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")  # reads as a character (22.9.2.19, ST_Xstring)
_LEVEL = 3  # of compression: a third of the time of the usual six, a tenth more bytes


def write_workbook(rows: Iterable[tuple[Group, Row]], sink: BinaryIO) -> None:
    """A workbook of these rows, in any order of groups. Raises BadInput for what a workbook cannot hold."""
    made = shell()
    with ExitStack() as files:
        sheets = {
            group.key: _Sheet(group, made, files.enter_context(tempfile.TemporaryFile("w+", encoding="utf-8")))
            for group in GROUPS
        }
        texts = _Texts()
        for group, row in rows:
            sheets[group.key].add(row, texts)
        _pack(made, sheets, texts, sink)


class _Texts:
    """Shared texts and their numbers."""

    def __init__(self) -> None:
        self.numbers: dict[str, int] = {}

    def cell(self, place: str, style: int, text: str) -> str:
        number = self.numbers.get(text)
        if number is None:
            escaped = _ESCAPED.search(text) is not None
            if not escaped and (len(text) > _LONGEST_SHARED or len(self.numbers) >= _SHARED):
                return f'<c r="{place}" s="{style}" t="inlineStr"><is>{_element(text)}</is></c>'
            number = self.numbers[text] = len(self.numbers)
        return f'<c r="{place}" s="{style}" t="s"><v>{number}</v></c>'


class _Sheet:
    """Rows of one sheet, set aside until all are there."""

    def __init__(self, group: Group, made: Shell, spool: io.TextIOBase) -> None:
        self.group, self.spool = group, spool
        self._letters = [get_column_letter(at) for at in range(1, len(group.columns) + 1)]
        self._style = made.style
        self._row = 1

    def add(self, row: Row, texts: _Texts) -> None:
        self._row += 1
        number = self._row
        if number > LAST_ROW:
            cure = "Export CSV or JSON Lines instead."
            raise BadInput(f"Sheet {self.group.key} has more rows than a workbook can hold.", cure=cure)
        cells = []
        for letter, text in zip(self._letters, row, strict=True):
            if text:
                _check(text, f"sheet {self.group.key}, cell {letter}{number}")
                cells.append(texts.cell(f"{letter}{number}", self._style, text))
        self.spool.write(f'<row r="{number}">{"".join(cells)}</row>')

    def chunks(self) -> Iterator[bytes]:
        self.spool.seek(0)
        while chunk := self.spool.read(1024 * 1024):
            yield chunk.encode()


def _check(text: str, place: str) -> None:
    if len(text) * 2 > LONGEST_CELL and len(text.encode("utf-16-le")) // 2 > LONGEST_CELL:
        cure = "Shorten it, or export CSV or JSON Lines instead."
        raise BadInput(f"The text for {place} has more than {LONGEST_CELL:,} characters, a cell's limit.", cure=cure)
    if not text.isascii() and ("\ufffe" in text or "\uffff" in text):
        raise BadInput(f"The text for {place} holds a character no workbook can hold.", cure="Export JSON Lines.")
    if "x005F_" in text:
        raise BadInput(
            f'The text for {place} holds "x005F_", which workbooks read as a sign.', cure="Export JSON Lines."
        )


def _element(text: str) -> str:
    safe = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return '<t xml:space="preserve">' + _ESCAPED.sub(r"_x005F_x\1_", safe) + "</t>"


def _pack(made: Shell, sheets: dict[str, _Sheet], texts: _Texts, sink: BinaryIO) -> None:
    by_name = {f"xl/worksheets/sheet{made.sheets[key]}.xml": sheet for key, sheet in sheets.items()}
    with zipfile.ZipFile(io.BytesIO(made.data)) as hollow, zipfile.ZipFile(sink, "w") as packed:
        for name in hollow.namelist():
            held = hollow.read(name)
            if name in _MENTIONS:
                before, end, after = held.rpartition(_MENTIONS[name][0])
                held = before + _MENTIONS[name][1] + end + after
            if name in by_name:
                before, end, after = held.partition(b"</sheetData>")
                _write(packed, name, chain([_DIMENSION.sub(b"", before)], by_name[name].chunks(), [end, after]))
            else:
                _write(packed, name, [held])
        table = (f"<si>{_element(text)}</si>".encode() for text in texts.numbers)
        _write(packed, "xl/sharedStrings.xml", chain([_HEAD], table, [b"</sst>"]))


def _write(packed: zipfile.ZipFile, name: str, chunks: Iterable[bytes]) -> None:
    target = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    target.compress_type = zipfile.ZIP_DEFLATED
    target._compresslevel = _LEVEL  # type: ignore[attr-defined]  # public only from Python 3.13 on
    with packed.open(target, "w", force_zip64=True) as member:
        for chunk in chunks:
            member.write(chunk)
