"""Compile an edition: write it aside, force it to the disk, give it its name, point to it.

A builder may be killed at any step: readers see the edition before or the edition after.
"""

import hashlib
import json
import logging
import os
import shutil
import tempfile
from pathlib import Path

from catalog.compiled.blob import write_blob
from catalog.compiled.files import flush_folder, locked, private_folder, replace_file, settle
from catalog.compiled.inputs import EditionInput
from catalog.compiled.layout import (
    ARRAYS,
    BUILDING,
    CURRENT,
    EDITIONS,
    ENGINE,
    FORMAT,
    LOCK,
    META,
    NAME,
    RECORDS,
    REVISIONS,
    SOURCES,
    TEXT,
    edition_name,
)
from catalog.compiled.manifest import Manifest, check, describe, write_manifest
from catalog.compiled.tables import write_tables
from catalog.errors import ChockbookError
from catalog.search.whoosh_index import build_index

KEPT = 2  # older editions beside the current one
_log = logging.getLogger(__name__)


def build(root: Path, edition: EditionInput) -> Path:
    """Compile an edition under `root`, point CURRENT to it, and return its folder.

    One builder per host: a second waits, and returns the finished folder when it holds the
    same edition compiled from the same input. CURRENT never goes back to a lower number.
    Raises ValueError for input that cannot be stored (a code twice, an array of objects).
    """
    settled = edition.settled()
    inputs = settled.digest()
    for folder in (root, root / EDITIONS):
        private_folder(folder)
    with locked(root / LOCK):
        _sweep(root)
        folder = root / EDITIONS / edition_name(edition.number, edition.hash)
        if not _is_finished(folder, inputs):
            aside = Path(tempfile.mkdtemp(prefix=BUILDING, dir=root))
            try:
                _write(aside, settled, inputs)
                _put(aside, folder)
            except Exception:
                shutil.rmtree(aside, ignore_errors=True)
                raise
        _point(root, folder)
        _prune(root)
    return folder


def _write(folder: Path, edition: EditionInput, inputs: str) -> None:
    records = list(edition.records)
    write_blob(folder / RECORDS, [(record.code, record.content) for record in records])
    revisions = [[record.revision, record.seq] for record in records]
    (folder / RECORDS / REVISIONS).write_text(json.dumps(revisions), encoding="utf-8")
    write_blob(folder / SOURCES, edition.sources)
    write_tables(folder, edition.tables)
    build_index(folder / TEXT, edition.texts)
    settle(folder)
    files = describe(folder)
    manifest = Manifest(
        format=FORMAT,
        engine=ENGINE,
        number=edition.number,
        hash=edition.hash,
        published_at_us=edition.published_at_us,
        author=edition.author,
        reason=edition.reason,
        inputs=inputs,
        tables=_tables_hash(files),
        files=files,
    )
    write_manifest(folder, manifest)


def _tables_hash(files: dict[str, list[object]]) -> str:
    kept = {name: promised for name, promised in files.items() if name == META or name.startswith(f"{ARRAYS}/")}
    return hashlib.sha256(json.dumps(kept, sort_keys=True).encode()).hexdigest()


def _is_finished(folder: Path, inputs: str) -> bool:
    if not folder.exists():
        return False
    try:
        return check(folder).inputs == inputs
    except ChockbookError as error:
        _log.warning("compiling again: %s", error.message)
        return False


def _put(aside: Path, folder: Path) -> None:
    """Give the finished folder its name. One of that name (damaged, or of another version of the
    product) moves out first; a reader that looks in between keeps what it has."""
    if folder.exists():
        spent = Path(tempfile.mkdtemp(prefix=BUILDING, dir=aside.parent))
        os.rename(folder, spent / folder.name)
    os.rename(aside, folder)
    flush_folder(folder.parent)


def _point(root: Path, folder: Path) -> None:
    standing = _standing(root)
    if standing and _number(standing) > _number(folder.name) and (root / EDITIONS / standing).exists():
        _log.warning("compiled %s, but %s is newer and stays current", folder.name, standing)
    else:
        replace_file(root / CURRENT, f"{folder.name}\n")


def _prune(root: Path) -> None:
    """Remove what killed builders left, and all but the current edition and the newest others."""
    _sweep(root)
    standing = _standing(root)
    others = [path for path in (root / EDITIONS).iterdir() if NAME.fullmatch(path.name) and path.name != standing]
    others.sort(key=lambda path: (_number(path.name), path.stat().st_mtime_ns), reverse=True)
    for path in others[KEPT:]:
        shutil.rmtree(path)


def _sweep(root: Path) -> None:
    for path in root.glob(f"{BUILDING}*"):
        shutil.rmtree(path)


def _standing(root: Path) -> str:
    """The name CURRENT holds; "" when there is none that reads as one."""
    try:
        name = (root / CURRENT).read_text(encoding="utf-8").strip()
    except (FileNotFoundError, UnicodeDecodeError):
        return ""
    return name if NAME.fullmatch(name) else ""


def _number(name: str) -> int:
    return int(name.split("-")[0])
