"""One part: bytes under the name of what they are."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class Part:
    """use: what it is for, such as "records"; key: which of those, such as the first code in it."""

    use: str
    key: str
    content: bytes

    @cached_property
    def name(self) -> str:
        """SHA-256 of the content as it is before packing, lower-case hex."""
        return hashlib.sha256(self.content).hexdigest()


def json_part(use: str, key: str, value: object) -> Part:
    """A part that is JSON."""
    return Part(use, key, _json(value))


@dataclass(frozen=True, slots=True)
class Column:
    """An array, or one row of a table of `rows` rows, with where it goes."""

    name: str
    values: NDArray[Any]
    row: int = 0
    rows: int = 0


def table_part(key: str, columns: Sequence[Column], meta: Sequence[tuple[Sequence[str], object]]) -> Part:
    """A part of the search tables: a line of JSON that says what follows, then the numbers, little-endian.

    meta: (path, value) pairs of the tables' meta; a path of two names lies one deeper.
    """
    head: list[Mapping[str, Any]] = []
    data = bytearray()
    for column in columns:
        values = column.values.astype(column.values.dtype.newbyteorder("<"), copy=False)
        place = {"row": column.row, "rows": column.rows} if column.rows else {}
        head.append(
            {"name": column.name, "type": values.dtype.str, "shape": values.shape, "at": len(data), **place}
        )  # fmt: skip
        data += np.ascontiguousarray(values).tobytes()
    line = _json({"arrays": head, "meta": [[list(path), value] for path, value in meta]})
    return Part("tables", key, line + b"\n" + bytes(data))


def _json(value: object) -> bytes:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
