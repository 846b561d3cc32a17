"""What an edition's files were when they were written; checked before any of them is opened."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from catalog.compiled.files import digest, is_same_file, mark_of, regular_files, replace_file
from catalog.compiled.layout import ENGINE, FORMAT, MANIFEST, damaged, edition_name
from catalog.errors import Unavailable

FileMark = tuple[int, int, int, int]  # see `files.mark_of`


@dataclass(frozen=True, slots=True)
class Manifest:
    """number, hash, published_at_us, author, reason: the edition's. inputs: SHA-256 of what it
    was compiled from. program: what compiled it (see program.py). files: relative path ->
    [size, SHA-256]. tables: SHA-256 over the tables' files, equal on every host that compiled the
    same edition."""

    format: int
    engine: str
    number: int
    hash: str
    published_at_us: int
    author: str
    reason: str
    inputs: str
    program: str
    tables: str
    files: Mapping[str, list[Any]]


def describe(folder: Path, earlier: Path | None = None, known: Mapping[str, list[Any]] = {}) -> dict[str, list[Any]]:
    """[size, SHA-256] of every file under a folder, by relative path.

    earlier, known: another folder and what its files are; of those the two folders share it is taken from there.
    """

    def told(name: str, size: int) -> list[Any]:
        shared = earlier is not None and name in known and is_same_file(folder / name, earlier / name)
        return [size, known[name][1] if shared and known[name][0] == size else digest(folder / name)]

    return {name: told(name, status.st_size) for name, status in sorted(regular_files(folder).items())}


def write_manifest(folder: Path, manifest: Manifest) -> None:
    """Seal a folder. The seal is the SHA-256 of the manifest without it."""
    replace_file(folder / MANIFEST, _sealed(asdict(manifest)))


def check(folder: Path, checked: dict[FileMark, str] | None = None) -> Manifest:
    """The manifest of a folder whose every file is what it says, and which holds nothing else.

    checked: files whose content this process knows, with their SHA-256: what an edition shares with the one before is
    not read again. It is left with those of this folder. Raises IntegrityError naming the file, Unavailable for an
    edition of another version.
    """
    known = {} if checked is None else checked
    manifest = _read(folder / MANIFEST)
    if folder.name != edition_name(manifest.number, manifest.hash):
        raise damaged(folder, f"holds edition {manifest.number} ({manifest.hash[:12]})")
    found = regular_files(folder)
    found.pop(MANIFEST)
    if odd := min(found.keys() ^ manifest.files.keys(), default=""):
        raise damaged(folder / odd, "is not in its manifest" if odd in found else "is missing")
    for name, (size, promised) in manifest.files.items():
        if found[name].st_size != size:
            raise damaged(folder / name, f"has {found[name].st_size} bytes, its manifest promises {size}")
        if known.get(mark_of(found[name])) != promised and digest(folder / name) != promised:
            raise damaged(folder / name, "was changed after it was written")
    known.clear()
    known.update((mark_of(found[name]), promised) for name, (_, promised) in manifest.files.items())
    return manifest


def _read(path: Path) -> Manifest:
    try:
        text = path.read_text(encoding="utf-8")
        content = json.loads(text)
        content.pop("seal")
        standing = (content["format"], content["engine"])
    except FileNotFoundError:
        raise damaged(path, "is missing") from None
    except (ValueError, KeyError, AttributeError, TypeError):
        raise damaged(path, "cannot be read") from None
    if text != _sealed(content):
        raise damaged(path, "was changed after it was written")
    if standing != (FORMAT, ENGINE):
        raise Unavailable(
            f"{path.parent} was compiled by {standing[1]} (format {standing[0]}); this is {ENGINE} (format {FORMAT}).",
            cure="Run `chockbook demo --no-serve` to compile it again.",
        )
    return Manifest(**content)


def _sealed(content: Mapping[str, Any]) -> str:
    """The manifest's text."""
    seal = hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()
    return json.dumps({**content, "seal": seal}, indent=1, sort_keys=True) + "\n"
