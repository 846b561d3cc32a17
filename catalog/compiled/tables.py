"""The search tables to and from files: one .npy per array, the meta as JSON."""

import json
import re
from pathlib import Path
from sys import intern

import numpy as np

from catalog.compiled.layout import ARRAYS, META
from catalog.resolve.tables import Tables

_NAME = re.compile(r"[a-z0-9_]+")


def write_tables(folder: Path, tables: Tables) -> None:
    """Equal tables give equal bytes. Raises ValueError for a name or content that is not plain."""
    (folder / ARRAYS).mkdir()
    for name, array in tables.arrays.items():
        if not _NAME.fullmatch(name):
            raise ValueError(f"{name!r} is no name for a table: a-z, 0-9 and _ only")
        np.save(folder / ARRAYS / f"{name}.npy", array, allow_pickle=False)
    meta = json.dumps(tables.meta, ensure_ascii=False, allow_nan=False)
    (folder / META).write_text(meta, encoding="utf-8")


def open_tables(folder: Path) -> Tables:
    """The tables, memory-mapped and read-only."""
    arrays = {
        path.stem: np.load(path, mmap_mode="r", allow_pickle=False) for path in sorted((folder / ARRAYS).glob("*.npy"))
    }
    meta = json.loads((folder / META).read_text(encoding="utf-8"))
    for name in meta.get("names", ()):
        name[2] = intern(name[2])  # five kinds, not one text a name
    return Tables(arrays, meta)
