"""Rows as the text of a workbook's sheets, and the sheets into a workbook that was saved without them.

The workbook library writes every text where it stands, which takes ten times as long to read back. Here texts that
repeat stand once, in the workbook's table of shared texts (ECMA-376 part 1, 18.4), up to a limit.
"""

import io
import re
import zipfile
from collections.abc import Iterable, Mapping
from itertools import chain
from typing import BinaryIO

from catalog.errors import BadInput

LONGEST_CELL = 32_767  # UTF-16 units, of the file format's usual reader
LAST_ROW = 1_048_576  # of a sheet in the file format
_SHARED = 200_000  # texts kept once; what they take in memory is an export's limit
_LONGEST_SHARED = 120  # characters; longer ones seldom come twice
_LEVEL = 3  # of compression: a third of the time of the usual six, a tenth more bytes
_HEAD = (
    b'<?xml version="1.0" encoding="UTF-8"?>\n<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
)
# Where the workbook must say that there are shared texts: before what, and how.
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
_ROWS = re.compile(rb"<sheetData ?/>|<sheetData>(.*)</sheetData>", re.DOTALL)
_DIMENSION = re.compile(rb"<dimension [^>]*/>")  # of what the library saw; may be left out
# "_x0041_" is read as the character of that number (22.9.2.19, ST_Xstring), so an underscore before one is written so.
_ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_UNSAYABLE = re.compile("[\x00-\x08\x0b-\x1f\ufffe\uffff]")  # in XML 1.0, 2.2
_STRANGE = re.compile(f"x[0-9A-Fa-f]{{4}}_|{_UNSAYABLE.pattern}")


class Texts:
    """Shared texts and their numbers."""

    def __init__(self) -> None:
        self.numbers: dict[str, int] = {}

    def cell(self, place: str, style: int, text: str) -> str:
        """One cell. place: "B7". Raises BadInput for a text beyond the limit of a cell."""
        number = self.numbers.get(text)
        if number is None:
            if not text:
                return f'<c r="{place}" s="{style}"/>'
            _check(text, place)
            # What must be escaped stands in its cell: readers agree less on how a shared text is read back.
            if len(text) > _LONGEST_SHARED or len(self.numbers) >= _SHARED or _STRANGE.search(text):
                return f'<c r="{place}" s="{style}" t="inlineStr"><is>{_element(text)}</is></c>'
            number = self.numbers[text] = len(self.numbers)
        return f'<c r="{place}" s="{style}" t="s"><v>{number}</v></c>'


def row(number: int, cells: Iterable[str]) -> str:
    return f'<row r="{number}">{"".join(cells)}</row>'


def pack(saved: bytes, rows: Mapping[int, Iterable[bytes]], texts: Texts, sink: BinaryIO, keep: int = 0) -> None:
    """Write a workbook with rows of ours. saved: the workbook as the library saved it. rows: sheet from 1 -> its rows.

    keep: how many of the rows the library saved stay above ours; what else it saved of these sheets' cells goes.
    """
    by_name = {f"xl/worksheets/sheet{number}.xml": chunks for number, chunks in rows.items()}
    with zipfile.ZipFile(io.BytesIO(saved)) as hollow, zipfile.ZipFile(sink, "w") as packed:
        for name in hollow.namelist():
            held = hollow.read(name)
            if name in _MENTIONS:
                before, end, after = held.rpartition(_MENTIONS[name][0])
                held = before + _MENTIONS[name][1] + end + after
            if name in by_name:
                before, kept, after = _parted(held, keep)
                _write(packed, name, chain([before, b"<sheetData>", kept], by_name[name], [b"</sheetData>", after]))
            else:
                _write(packed, name, [held])
        table = (f"<si>{_element(text)}</si>".encode() for text in texts.numbers)
        _write(packed, "xl/sharedStrings.xml", chain([_HEAD], table, [b"</sst>"]))


def _parted(sheet: bytes, keep: int) -> tuple[bytes, bytes, bytes]:
    """What stands before a sheet's rows, the first of them, and what stands after them all."""
    found = _ROWS.search(sheet)
    assert found is not None
    kept = found[1].split(b"</row>")[:keep] if found[1] else []
    return _DIMENSION.sub(b"", sheet[: found.start()]), b"".join(one + b"</row>" for one in kept), sheet[found.end() :]


def _write(packed: zipfile.ZipFile, name: str, chunks: Iterable[bytes]) -> None:
    # The same rows give the same bytes, whenever they are written.
    target = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    target.compress_type = zipfile.ZIP_DEFLATED
    target._compresslevel = _LEVEL  # type: ignore[attr-defined]  # public only from Python 3.13 on
    with packed.open(target, "w", force_zip64=True) as member:
        for chunk in chunks:
            member.write(chunk)


def _check(text: str, place: str) -> None:
    if len(text) * 2 > LONGEST_CELL and len(text.encode("utf-16-le")) // 2 > LONGEST_CELL:
        cure = "Shorten it, or export CSV or JSON Lines instead."
        raise BadInput(f"The text for cell {place} has more than {LONGEST_CELL:,} characters, its limit.", cure=cure)


def _element(text: str) -> str:
    safe = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    if _STRANGE.search(safe):
        safe = _UNSAYABLE.sub(lambda found: f"_x{ord(found[0]):04X}_", _ESCAPED.sub("_x005F_", safe))
    return f'<t xml:space="preserve">{safe}</t>'
