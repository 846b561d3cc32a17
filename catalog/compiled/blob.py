"""Many byte strings in one file, found by key."""

import json
import mmap
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import numpy as np

_BYTES, _OFFSETS, _KEYS = "bytes.bin", "offsets.npy", "keys.json"


class Blob:
    """A read-only, memory-mapped blob. keys: in stored order."""

    def __init__(self, folder: Path) -> None:
        self.keys: tuple[str, ...] = tuple(json.loads((folder / _KEYS).read_text(encoding="utf-8")))
        self._place = {key: place for place, key in enumerate(self.keys)}
        self._offsets = np.load(folder / _OFFSETS, allow_pickle=False).tolist()
        with (folder / _BYTES).open("rb") as file:
            self._bytes = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) if self._offsets[-1] else b""

    def __getitem__(self, key: str) -> bytes:
        """The bytes of a key. Raises KeyError."""
        place = self._place[key]
        return self._bytes[self._offsets[place] : self._offsets[place + 1]]

    def place(self, key: str) -> int:
        """Where a key stands in stored order. Raises KeyError."""
        return self._place[key]


def write_blob(folder: Path, items: Iterable[tuple[str, bytes]]) -> None:
    """Write (key, bytes) pairs in the order given; keys must differ."""
    folder.mkdir()
    keys: list[str] = []
    offsets = [0]
    with (folder / _BYTES).open("wb") as file:
        for key, content in items:
            file.write(content)
            keys.append(key)
            offsets.append(offsets[-1] + len(content))
    twice = [key for key, count in Counter(keys).items() if count > 1]
    if twice:
        raise ValueError(f"{twice[0]} is there twice")
    np.save(folder / _OFFSETS, np.array(offsets, dtype=np.int64), allow_pickle=False)
    (folder / _KEYS).write_text(json.dumps(keys, ensure_ascii=False), encoding="utf-8")
