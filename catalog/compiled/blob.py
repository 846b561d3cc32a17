"""Many byte strings in a few files, found by key.

bytes-000.bin ...   the strings, so many of them a file, so that an edition that changes one shares the other files
offsets.npy         (N + 1,) int64: where each begins, counted over all files
keys.json           the keys, in stored order
"""

import json
import mmap
import os
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import numpy as np

_OFFSETS, _KEYS = "offsets.npy", "keys.json"
_PART = 512  # strings a file: of records some seven megabytes


class Blob:
    """A read-only, memory-mapped blob. keys: in stored order."""

    def __init__(self, folder: Path) -> None:
        self.keys: tuple[str, ...] = tuple(json.loads((folder / _KEYS).read_text(encoding="utf-8")))
        self._place = {key: place for place, key in enumerate(self.keys)}
        self._offsets = np.load(folder / _OFFSETS, allow_pickle=False).tolist()
        self._parts = [_mapped(_part(folder, first)) for first in range(0, len(self.keys), _PART)]

    def __getitem__(self, key: str) -> bytes:
        """The bytes of a key. Raises KeyError."""
        place = self._place[key]
        number = place // _PART
        begin = self._offsets[number * _PART]
        return self._parts[number][self._offsets[place] - begin : self._offsets[place + 1] - begin]

    def place(self, key: str) -> int:
        """Where a key stands in stored order. Raises KeyError."""
        return self._place[key]


def write_blob(folder: Path, items: Sequence[tuple[str, bytes]], earlier: Path | None = None) -> None:
    """Write (key, bytes) pairs in the order given; keys must differ.

    earlier: another blob, never to be changed; a file that would be equal to one of its is shared with it.
    """
    twice = [key for key, count in Counter(key for key, _ in items).items() if count > 1]
    if twice:
        raise ValueError(f"{twice[0]} is there twice")
    folder.mkdir()
    for first in range(0, len(items), _PART):
        content = b"".join(held for _, held in items[first : first + _PART])
        path = _part(folder, first)
        if earlier is not None and _holds(there := _part(earlier, first), content):
            os.link(there, path)
        else:
            path.write_bytes(content)
    offsets = np.cumsum([0, *(len(content) for _, content in items)], dtype=np.int64)
    np.save(folder / _OFFSETS, offsets, allow_pickle=False)
    (folder / _KEYS).write_text(json.dumps([key for key, _ in items], ensure_ascii=False), encoding="utf-8")


def _part(folder: Path, first: int) -> Path:
    return folder / f"bytes-{first // _PART:03d}.bin"


def _holds(path: Path, content: bytes) -> bool:
    return path.exists() and path.stat().st_size == len(content) and path.read_bytes() == content


def _mapped(path: Path) -> mmap.mmap | bytes:
    with path.open("rb") as file:
        # An empty file cannot be mapped.
        return mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) if os.fstat(file.fileno()).st_size else b""
