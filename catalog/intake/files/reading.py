"""Reading a file nobody has checked: in a process of its own, which may fall over without anybody else doing so."""

import io
import json
import mmap
import os
import shutil
import tempfile
import zipfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import asdict
from itertools import repeat
from pathlib import Path
from typing import IO, BinaryIO

from catalog.intake.files.apart import run_apart
from catalog.intake.files.child import too_large
from catalog.intake.files.kinds import ending
from catalog.intake.files.limits import LIMITS, Limits
from catalog.intake.files.wire import contents, handed
from catalog.intake.finding import Finding
from catalog.intake.sheets import Contents

_CHILD = "catalog.intake.files.child"
# A workbook of some hundred records and more is read by two processes, half of its sheets each.
_READERS, _LARGE = 2, 1024**2


def read_file(data: bytes | BinaryIO, name: str, encoding: str = "", limits: Limits = LIMITS) -> Contents:
    """What a file holds. data: its bytes, or the file opened. name: what it is called. encoding: of text, "" for UTF-8.

    Whatever is wrong with it is a finding; nothing is raised. Rows and documents are read from a temporary file as
    they are asked for.
    """
    size = len(data) if isinstance(data, bytes) else os.fstat(data.fileno()).st_size
    if size > limits.size:
        found, allowed = f"{size:,} bytes", f"at most {limits.size:,}"
        return _refused(name, found, allowed, "Split it into several files.")
    shares = _READERS if size >= _LARGE and ending(name) == ".xlsx" and (os.cpu_count() or 1) > 1 else 1
    asked = {"name": name, "encoding": encoding, "limits": asdict(limits)}
    with ExitStack() as stack, ThreadPoolExecutor(shares) as pool:
        outs = [stack.enter_context(tempfile.TemporaryFile()) for _ in range(shares)]
        told = [json.dumps({**asked, "share": [which, shares]}) for which in range(shares)]
        # Each reads from a file of its own: the system keeps one place in a file for all who share it.
        files = [stack.enter_context(_spooled(data)) for _ in range(shares)]
        ended = list(pool.map(run_apart, repeat(_CHILD), told, zip(files, outs, strict=True), repeat(limits)))
        return _collected(name, outs, ended, limits)


@contextmanager
def _spooled(data: bytes | BinaryIO) -> Iterator[IO[bytes]]:
    with tempfile.TemporaryFile() as spool:
        if isinstance(data, bytes):
            spool.write(data)
        else:
            data.seek(0)
            shutil.copyfileobj(data, spool)
        spool.seek(0)
        yield spool


def read_folder(folder: Path, encoding: str = "", limits: Limits = LIMITS) -> Contents:
    """What the files of a folder hold; folders inside it are left out. Raises OSError where one cannot be opened."""
    return read_file(folder_bytes(folder), f"{folder.name}.zip", encoding, limits)


def folder_bytes(folder: Path) -> bytes:
    """The files of a folder as one zip, the same bytes for the same files."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_STORED) as packed:
        for path in sorted(folder.iterdir()):
            if path.is_file() and not path.name.startswith("."):
                packed.writestr(zipfile.ZipInfo(path.name), path.read_bytes())
    return made.getvalue()


def _collected(name: str, outs: Sequence[IO[bytes]], ended: Sequence[str], limits: Limits) -> Contents:
    why = next(filter(None, ended), "")
    if not why and all(out.seek(0, io.SEEK_END) for out in outs):
        # A map keeps its temporary file alive after it is closed.
        parts = [handed(mmap.mmap(out.fileno(), 0, access=mmap.ACCESS_READ)) for out in outs]
        cells = sum(part.cells for part in parts)
        if all(part.ended for part in parts) and cells <= limits.cells:
            return contents(name, parts)
        if cells > limits.cells:
            return _refused(name, f"{cells:,} cells", f"at most {limits.cells:,}", "Split it.")
    found = f"a file that {why}" if why else too_large(name, limits).found
    cure = "Nothing of it was taken. Save it again from a spreadsheet program, or split it; if it stays, report it."
    return _refused(name, found, "a file that can be read", cure)


def _refused(name: str, found: str, allowed: str, cure: str) -> Contents:
    return Contents(name, findings=(Finding(name, "", 0, 0, found, allowed, cure),), refused=True)
