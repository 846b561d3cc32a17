"""What a calibration holds for: this reader, these parameters, those labels."""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from catalog.resolve import deletions, lexicon, reading, sound
from catalog.resolve.parameters import expert

_READ = (".py", ".json")
# What the reader knows names by lies beside it.
_BESIDE = (deletions, lexicon, sound)


@dataclass(frozen=True, slots=True)
class Key:
    """SHA-256, lower-case hex, of each."""

    reader: str
    parameters: str
    labels: str

    def same_engine(self, other: "Key") -> bool:
        """Whether both are of one reader and one set of parameters."""
        return (self.reader, self.parameters) == (other.reader, other.parameters)


def key_of(labels: str) -> Key:
    """The key of this very program for these labels. labels: their hash."""
    return Key(reader_hash(), parameters_hash(), labels)


@cache
def reader_hash() -> str:
    """Over the reader's modules and tables, wherever they are installed."""
    root = Path(str(reading.__file__)).parent
    paths = [path for path in root.rglob("*") if path.suffix in _READ]
    named = {path.relative_to(root).as_posix(): path for path in paths}
    named |= {f"../{Path(str(module.__file__)).name}": Path(str(module.__file__)) for module in _BESIDE}
    running = hashlib.sha256()
    for name, path in sorted(named.items()):
        content = path.read_bytes()
        running.update(f"{name} {len(content)}\n".encode())
        running.update(content)
    return running.hexdigest()


def parameters_hash() -> str:
    """Of the numbers that temperature and bias are fitted beside: the expert's."""
    return expert().hash


def hash_of(labels: Sequence[object]) -> str:
    """Of labels as JSON, whatever their order."""
    told = sorted(json.dumps(label, sort_keys=True, separators=(",", ":")) for label in labels)
    return hashlib.sha256("\n".join(told).encode()).hexdigest()
