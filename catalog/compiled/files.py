"""Owner-only files that survive a power cut, and one lock per folder."""

import fcntl
import hashlib
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from catalog.compiled.layout import damaged

_OTHERS_WRITE = stat.S_IWGRP | stat.S_IWOTH
_BLOCK = 1 << 20


def private_folder(path: Path) -> None:
    """Make a folder that nobody else can enter."""
    path.mkdir(parents=True, exist_ok=True)
    path.chmod(0o700)


def settle(folder: Path) -> None:
    """Make everything under a folder owner-only and force it to the disk, the folders last."""
    for place, folders, names in os.walk(folder, topdown=False):
        for name in names:
            path = os.path.join(place, name)
            os.chmod(path, 0o600)
            _flush(path)
        for name in folders:
            os.chmod(os.path.join(place, name), 0o700)
        _flush(place)


def is_same_file(one: Path, other: Path) -> bool:
    """Whether both names are of one file; not where either is missing."""
    try:
        return os.path.samestat(one.lstat(), other.lstat())
    except FileNotFoundError:
        return False


def replace_file(path: Path, text: str) -> None:
    """Put a small file in place at once: readers see the old text or the new, never a part."""
    fresh = path.with_name(f"{path.name}.new")
    with open(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w", encoding="utf-8") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    os.replace(fresh, path)
    flush_folder(path.parent)


def flush_folder(folder: Path) -> None:
    """Force renames inside a folder to the disk."""
    _flush(folder)


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold an exclusive lock, waiting for it; the system lets go when the process dies."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def regular_files(folder: Path) -> dict[str, os.stat_result]:
    """Relative path -> what the system knows of every file. Raises IntegrityError for a link, a device, or
    anything another account could have written."""
    found: dict[str, os.stat_result] = {}
    _own(folder)
    for place, folders, names in os.walk(folder):
        for name in folders:
            _own(Path(place, name))
        for name in names:
            path = Path(place, name)
            status = _own(path)
            if not stat.S_ISREG(status.st_mode):
                raise damaged(path, "is not a plain file")
            found[path.relative_to(folder).as_posix()] = status
    return found


def mark_of(status: os.stat_result) -> tuple[int, int, int, int]:
    """What is another when a file was replaced or written to: two names of one file have the same."""
    return status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns


def digest(path: Path) -> str:
    """SHA-256 of a file, lower-case hex."""
    running = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            running.update(block)
    return running.hexdigest()


def _own(path: Path) -> os.stat_result:
    status = path.lstat()
    if status.st_mode & _OTHERS_WRITE and not stat.S_ISLNK(status.st_mode):
        raise damaged(path, "may be written by other accounts")
    if status.st_uid not in (os.geteuid(), 0):
        raise damaged(path, "belongs to another account")
    return status


def _flush(path: str | Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
