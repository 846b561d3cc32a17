"""Compile an edition: write it aside, force it to the disk, give it its name, point to it.

A builder may be killed at any step: readers see the edition before or the edition after.
"""

import hashlib
import json
import logging
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

from catalog.compiled.blob import write_blob
from catalog.compiled.edition import Compiled
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
    RECORDS,
    REVISIONS,
    ROWS,
    SOURCES,
    TEXT,
    edition_name,
)
from catalog.compiled.manifest import Manifest, check, describe, write_manifest
from catalog.compiled.program import program
from catalog.compiled.shelf import Shelf
from catalog.compiled.tables import write_tables
from catalog.errors import ChockbookError
from catalog.search.whoosh_index import build_index

KEPT = 2  # older editions beside the current one
_log = logging.getLogger(__name__)


def build(root: Path, newest: Callable[[Compiled | None], EditionInput | None], shelf: Shelf | None = None) -> Path:
    """Compile the newest edition under `root`, point CURRENT to it, and return its folder.

    One builder per host: a second waits. `newest` is called once the lock is held, so whoever
    comes last points to what is newest then. It is handed the edition compiled last, if this very
    program made it, to take from it what did not change; the files are the same as without it, the
    library under the text index excepted. shelf: what this process answers from, of the same `root`: the edition
    compiled last is checked and opened there, if it is not yet, and not a second time for this. A finished folder made
    from the same input is returned as it is; so is the one handed out where `newest` says, with None, that it is the
    newest: whoever waited finds the work done. Raises ValueError for input that cannot be stored (a code twice, an
    array of objects), and whatever `newest` raises.
    """
    for folder in (root, root / EDITIONS):
        private_folder(folder)
    with locked(root / LOCK):
        _sweep(root)
        earlier = _earlier(root, shelf or Shelf(root))
        given = newest(earlier)
        if given is None:
            assert earlier is not None  # nobody can say so of nothing
            return earlier.folder
        edition = given.settled()
        inputs = edition.digest()
        folder = root / EDITIONS / edition_name(edition.number, edition.hash)
        finished = _is_finished(folder, inputs)
        if not finished:
            _make(folder, edition, inputs, earlier)
        if not (finished and _is_current(root, folder)):
            replace_file(root / CURRENT, f"{folder.name}\n")  # which makes every process open it
        _prune(root, folder)
    return folder


def wait_for_builder(root: Path) -> None:
    """Until nobody is compiling under `root`; at once where nobody is."""
    private_folder(root)
    with locked(root / LOCK):
        pass


def _make(folder: Path, edition: EditionInput, inputs: str, earlier: Compiled | None) -> None:
    aside = Path(tempfile.mkdtemp(prefix=BUILDING, dir=folder.parents[1]))
    try:
        _write(aside, edition, inputs, earlier)
        _put(aside, folder)
    except Exception:
        shutil.rmtree(aside, ignore_errors=True)
        raise


def _write(folder: Path, edition: EditionInput, inputs: str, earlier: Compiled | None) -> None:
    records = list(edition.records)
    before = earlier.folder if earlier else None
    for name, items in (
        (RECORDS, [(record.code, record.content) for record in records]),
        (SOURCES, list(edition.sources)),
        (ROWS, list(edition.rows)),
    ):
        write_blob(folder / name, items, before and before / name)
    revisions = [[record.revision, record.seq] for record in records]
    (folder / RECORDS / REVISIONS).write_text(json.dumps(revisions), encoding="utf-8")
    write_tables(folder, edition.tables)
    build_index(folder / TEXT, edition.notes(), before and before / TEXT)
    settle(folder)
    files = describe(folder, before, earlier.files if earlier else {})
    manifest = Manifest(
        format=FORMAT,
        engine=ENGINE,
        number=edition.number,
        hash=edition.hash,
        published_at_us=edition.published_at_us,
        author=edition.author,
        reason=edition.reason,
        inputs=inputs,
        program=program(),
        tables=_tables_hash(files),
        files=files,
    )
    write_manifest(folder, manifest)


def _earlier(root: Path, shelf: Shelf) -> Compiled | None:
    """The current edition, checked when it was opened, if this program compiled it."""
    try:
        folder = root / EDITIONS / (root / CURRENT).read_text(encoding="utf-8").strip()
        opened = shelf.newest()
    except (OSError, ValueError, ChockbookError):
        return None
    return opened if opened.folder == folder and folder.exists() and opened.program == program() else None


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


def _is_current(root: Path, folder: Path) -> bool:
    try:
        return (root / CURRENT).read_bytes().decode() == f"{folder.name}\n"
    except (FileNotFoundError, UnicodeDecodeError):
        return False


def _put(aside: Path, folder: Path) -> None:
    """Give the finished folder its name. One of that name (damaged, or of another version of the
    product) moves out first; a reader that looks in between keeps what it has."""
    if folder.exists():
        spent = Path(tempfile.mkdtemp(prefix=BUILDING, dir=aside.parent))
        os.rename(folder, spent / folder.name)
    os.rename(aside, folder)
    flush_folder(folder.parent)


def _prune(root: Path, current: Path) -> None:
    """Remove what was moved out, and all editions but the current and the last built others."""
    _sweep(root)
    others = [path for path in (root / EDITIONS).iterdir() if path != current]
    others.sort(key=lambda path: path.stat().st_mtime_ns, reverse=True)
    for path in others[KEPT:]:
        shutil.rmtree(path)


def _sweep(root: Path) -> None:
    for path in root.glob(f"{BUILDING}*"):
        shutil.rmtree(path)
