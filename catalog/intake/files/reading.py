"""Reading a file nobody has checked: in a process of its own, which may fall over without anybody else doing so."""

import io
import json
import mmap
import os
import tempfile
import zipfile
from dataclasses import asdict
from pathlib import Path
from typing import BinaryIO

from catalog.intake.files.apart import run_apart
from catalog.intake.files.child import too_large
from catalog.intake.files.limits import LIMITS, Limits
from catalog.intake.files.wire import contents
from catalog.intake.finding import Finding
from catalog.intake.sheets import Contents

_CHILD = "catalog.intake.files.child"


def read_file(data: bytes | BinaryIO, name: str, encoding: str = "", limits: Limits = LIMITS) -> Contents:
    """What a file holds. data: its bytes, or the file opened. name: what it is called. encoding: of text, "" for UTF-8.

    Whatever is wrong with it is a finding; nothing is raised. Rows and documents are read from a temporary file as
    they are asked for.
    """
    with tempfile.TemporaryFile() as spool:
        if isinstance(data, bytes):
            spool.write(data)
        size = spool.tell() if isinstance(data, bytes) else os.fstat(data.fileno()).st_size
        if size > limits.size:
            found, allowed = f"{size:,} bytes", f"at most {limits.size:,}"
            return _refused(name, found, allowed, "Split it into several files.")
        file = spool if isinstance(data, bytes) else data
        file.seek(0)
        with tempfile.TemporaryFile() as out:
            asked = json.dumps({"name": name, "encoding": encoding, "limits": asdict(limits)})
            ended = run_apart(_CHILD, asked, (file, out), limits)
            return _collected(name, out, ended, limits)


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


def _collected(name: str, out: BinaryIO, ended: str, limits: Limits) -> Contents:
    size = out.seek(0, io.SEEK_END)
    if not ended and size:
        # The map keeps the temporary file alive after it is closed.
        held, whole = contents(name, mmap.mmap(out.fileno(), 0, access=mmap.ACCESS_READ))
        if whole:
            return held
    found = f"a file that {ended}" if ended else too_large(name, limits).found
    cure = "Nothing of it was taken. Save it again from a spreadsheet program, or split it; if it stays, report it."
    return _refused(name, found, "a file that can be read", cure)


def _refused(name: str, found: str, allowed: str, cure: str) -> Contents:
    return Contents(name, findings=(Finding(name, "", 0, 0, found, allowed, cure),), refused=True)
