"""The reading process: a file on standard input, what it holds on standard output, and no more room than it is given.

Run by `reading.py`. Whatever goes wrong in here, by fault or by design of the file, ends with this process.
"""

import errno
import io
import json
import os
import sys
import zipfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import BinaryIO

from catalog.intake.files.apart import TOO_MUCH, confine
from catalog.intake.files.columns import read_columns
from catalog.intake.files.decoding import decoded
from catalog.intake.files.kinds import Kind, ending, kind_of
from catalog.intake.files.limits import Limits, Share
from catalog.intake.files.objects import read_lines, read_whole
from catalog.intake.files.packed import opened
from catalog.intake.files.refusing import Refused
from catalog.intake.files.wire import Writer
from catalog.intake.finding import Finding

_TEXTS: dict[Kind, Callable[[str, str, Limits, Writer], None]] = {
    Kind.CSV: read_columns,
    Kind.JSON: read_whole,
    Kind.LINES: read_lines,
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What to read. share: (which, of how many) of a workbook's sheets; other files are read whole."""

    name: str
    encoding: str
    limits: Limits
    share: Share


def main(asked: str) -> None:
    """asked: JSON of {"name", "encoding", "limits", "share"}."""
    told = json.loads(asked)
    given = Asked(told["name"], told["encoding"], Limits(**told["limits"]), tuple(told["share"]))
    confine(given.limits)
    # The workbook library asks for it, needs it for nothing that is read, and does without where it is not there: half
    # of the time it takes to start.
    sys.modules["numpy"] = None  # type: ignore[assignment]
    out = Writer(io.BufferedWriter(io.FileIO(1, "wb", closefd=False), 1024 * 1024))
    with os.fdopen(0, "rb", closefd=False) as file:
        try:
            read(file, given, out)
        except MemoryError:
            out.finding(too_large(given.name, given.limits), whole=True)
        except OSError as error:
            if error.errno == errno.EFBIG:
                os._exit(TOO_MUCH)
            raise
    out.end()


def read(file: BinaryIO, asked: Asked, out: Writer) -> None:
    """Read one file, or every file of a zip; what cannot be read becomes a finding."""
    name, limits = asked.name, asked.limits
    try:
        kind = kind_of(file, name)
        if kind is Kind.ZIP:
            _read_zip(file, asked, out)
        elif kind is Kind.WORKBOOK:
            _read_workbook(file, asked, out)
        else:
            _TEXTS[kind](decoded(file.read(), asked.encoding), name, limits, out)
    except Refused as refused:
        place = Finding(name, refused.sheet, refused.row, refused.column, refused.found, refused.allowed, refused.cure)
        out.finding(place, whole=True)


def _read_workbook(file: BinaryIO, asked: Asked, out: Writer) -> None:
    # The workbook library takes longer to start than most other files to read.
    from catalog.intake.files.workbook import read_workbook

    read_workbook(file, asked.name, asked.limits, out, asked.share)


def _read_zip(file: BinaryIO, asked: Asked, out: Writer) -> None:
    with opened(file, asked.limits) as packed:
        for member in packed.infolist():
            if member.is_dir() or _aside(member.filename):
                continue
            if ending(member.filename) in (".zip", ".xlsx"):
                cure = "Bring it on its own."
                raise Refused(f"{member.filename} inside the zip", "CSV and JSON files only", cure)
            try:
                held = io.BytesIO(packed.read(member))
            except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError, RuntimeError) as error:
                cure = "It was cut off or damaged on its way: fetch it again."
                raise Refused(f"{member.filename}, which is damaged", "a whole file", cure) from error
            read(held, replace(asked, name=member.filename), out)


def _aside(name: str) -> bool:
    """What systems leave in zips by the way."""
    return name.startswith("__MACOSX/") or name.rsplit("/", 1)[-1].startswith(".")


def too_large(name: str, limits: Limits) -> Finding:
    """The finding when the memory was not enough."""
    found = f"more than fits into {limits.memory // 1024**2:,} MB while it is read"
    return Finding(name, "", 0, 0, found, "a file of ordinary size", "Split it into several files.")
