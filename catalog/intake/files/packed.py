"""Zips: what their list of contents promises is held against the limits before anything is unpacked.

A member never yields more bytes than that list says it has (the standard library stops there), so the list binds.
"""

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from typing import BinaryIO

from catalog.intake.files.limits import Limits
from catalog.intake.files.refusing import Refused

_SMALL = 1024**2
_CURE = "Split it into several files."


@contextmanager
def opened(file: BinaryIO, limits: Limits) -> Iterator[zipfile.ZipFile]:
    """A zip within the limits. Raises Refused."""
    try:
        with zipfile.ZipFile(file) as packed:
            _check(packed.infolist(), limits)
            yield packed
    except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, EOFError) as error:
        cure = "It was cut off or damaged on its way: fetch it again."
        raise Refused(f"a damaged zip or workbook ({error})", "a whole file", cure) from error


def _check(members: list[zipfile.ZipInfo], limits: Limits) -> None:
    if len(members) > limits.members:
        raise Refused(f"{len(members):,} members", f"at most {limits.members:,}", _CURE)
    whole = sum(member.file_size for member in members)
    if whole > limits.unpacked:
        raise Refused(f"{whole:,} bytes when unpacked", f"at most {limits.unpacked:,}", _CURE)
    seen = set()
    for member in members:
        if member.flag_bits & 1:
            raise Refused(f"{member.filename} locked with a password", "files without a password", "Take it off.")
        if member.filename in seen:
            raise Refused(f"{member.filename} twice", "each member once", "Pack it again.")
        seen.add(member.filename)
        if member.file_size > _SMALL and member.file_size > limits.ratio * max(member.compress_size, 1):
            found = f"{member.filename}, which grows {member.file_size // max(member.compress_size, 1):,} times"
            raise Refused(found, f"at most {limits.ratio} times when unpacked", "Fetch it again from who made it.")
