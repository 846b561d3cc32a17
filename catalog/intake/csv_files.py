"""An export as CSV files, one a group, as RFC 4180 has them: CRLF, quotes doubled, line breaks inside quotes."""

import csv
import tempfile
import zipfile
from collections.abc import Iterable
from contextlib import ExitStack
from typing import Any, BinaryIO, TextIO

from catalog.intake.apostrophe import guarded
from catalog.intake.groups import GROUPS, Group
from catalog.intake.rows import Row

_MOMENT = (1980, 1, 1, 0, 0, 0)  # the same export gives the same bytes
BOM = "\ufeff"  # spreadsheet programs take UTF-8 without it for something else


def file_name(group: Group) -> str:
    return f"{group.key.replace(' ', '-')}.csv"


def write_csv(rows: Iterable[tuple[Group, Row]], sink: BinaryIO) -> None:
    """A zip of one CSV file a group, headings in all of them. Rows may come in any order of groups."""
    with ExitStack() as open_files:
        spools: dict[str, TextIO] = {}
        writers: dict[str, Any] = {}
        for group in GROUPS:
            text = open_files.enter_context(tempfile.TemporaryFile("w+", encoding="utf-8", newline=""))
            spools[group.key] = text
            text.write(BOM)
            writers[group.key] = csv.writer(text, dialect="excel")
            writers[group.key].writerow([guarded(column.written) for column in group.columns])
        for group, row in rows:
            writers[group.key].writerow([guarded(text) for text in row])
        with zipfile.ZipFile(sink, "w") as packed:
            for group in GROUPS:
                spool = spools[group.key]
                spool.seek(0)
                info = zipfile.ZipInfo(file_name(group), _MOMENT)
                info.compress_type = zipfile.ZIP_DEFLATED
                with packed.open(info, "w", force_zip64=True) as member:
                    while chunk := spool.read(1024 * 1024):
                        member.write(chunk.encode())
