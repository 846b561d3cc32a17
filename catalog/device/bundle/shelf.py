"""Bundles on the disk beside the compiled editions, shared by every process of a host.

parts/<SHA-256>       packed by gzip; written aside and given its name at once, never changed
listings/<SHA-256>    names of the parts that a listing needs; as old as when it was last asked for
"""

import gzip
import json
import os
import re
import tempfile
from pathlib import Path

from catalog.compiled.files import locked, private_folder
from catalog.device.bundle.making import Bundle
from catalog.device.bundle.part import Part

KEPT = 3  # bundles; a phone that is fetching an older one goes on
_NAME = re.compile(r"[0-9a-f]{64}")
_LEVEL = 9
_ASIDE = "aside-"


class BundleShelf:
    """One host's. Any number of processes may read and write."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def keep(self, bundle: Bundle) -> dict[str, int]:
        """Write what is not there yet and drop bundles long past. Returns the packed size by name."""
        for folder in (self.folder, self.folder / "parts", self.folder / "listings"):
            private_folder(folder)
        with locked(self.folder / "LOCK"):
            for left in self.folder.glob(f"{_ASIDE}*"):  # of one that was killed
                left.unlink()
            sizes = {part.name: self._put(part) for part in bundle.parts}
            names = [part.name for part in bundle.parts]
            self._write(self.folder / "listings" / bundle.listing.name, json.dumps(names).encode())
            self._prune()
        return sizes

    def packed(self, name: str) -> bytes | None:
        """The packed bytes of a part; None where there is none of that name."""
        if not _NAME.fullmatch(name):
            return None
        try:
            return (self.folder / "parts" / name).read_bytes()
        except FileNotFoundError:
            return None

    def _put(self, part: Part) -> int:
        path = self.folder / "parts" / part.name
        try:
            return path.stat().st_size
        except FileNotFoundError:
            return self._write(path, gzip.compress(part.content, _LEVEL, mtime=0))

    def _prune(self) -> None:
        listings = sorted((self.folder / "listings").iterdir(), key=lambda path: path.stat().st_mtime_ns)
        for path in listings[:-KEPT]:
            path.unlink()
        needed = {name for path in listings[-KEPT:] for name in json.loads(path.read_bytes())}
        for path in (self.folder / "parts").iterdir():
            if path.name not in needed:
                path.unlink()

    def _write(self, path: Path, content: bytes) -> int:
        handle, aside = tempfile.mkstemp(prefix=_ASIDE, dir=self.folder)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.replace(aside, path)
        return len(content)
