"""Rows into a workbook, one after the other, in bounded memory."""

import tempfile
from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from typing import BinaryIO, TextIO

from openpyxl.utils import get_column_letter

from catalog.errors import BadInput
from catalog.intake.groups import GROUPS, Group
from catalog.intake.packing import LAST_ROW, Texts, pack, row
from catalog.intake.rows import Row
from catalog.intake.shell import shell


def write_workbook(rows: Iterable[tuple[Group, Row]], sink: BinaryIO) -> None:
    """A workbook of these rows, in any order of groups. Raises BadInput for what a workbook cannot hold."""
    made = shell()
    with ExitStack() as files:
        sheets = {
            group.key: _Sheet(group, made.style, files.enter_context(tempfile.TemporaryFile("w+", encoding="utf-8")))
            for group in GROUPS
        }
        texts = Texts()
        for group, texts_of_row in rows:
            sheets[group.key].add(texts_of_row, texts)
        pack(made.data, {made.sheets[key]: sheet.chunks() for key, sheet in sheets.items()}, texts, sink, keep=1)


class _Sheet:
    """Rows of one sheet, set aside until all are there."""

    def __init__(self, group: Group, style: int, spool: TextIO) -> None:
        self._group, self._style, self._spool = group, style, spool
        self._letters = [get_column_letter(at) for at in range(1, len(group.columns) + 1)]
        self._row = 1  # the headings

    def add(self, made: Row, texts: Texts) -> None:
        self._row += 1
        if self._row > LAST_ROW:
            cure = "Export CSV or JSON Lines instead."
            raise BadInput(f"Sheet {self._group.key} has more rows than a workbook can hold.", cure=cure)
        number, style = self._row, self._style
        cells = zip(self._letters, made, strict=True)
        self._spool.write(row(number, (texts.cell(f"{at}{number}", style, text) for at, text in cells if text)))

    def chunks(self) -> Iterator[bytes]:
        self._spool.seek(0)
        while chunk := self._spool.read(1024 * 1024):
            yield chunk.encode()
