"""A compiled edition, open for reading."""

import json
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from functools import cached_property
from pathlib import Path

from catalog.compiled.blob import Blob
from catalog.compiled.layout import RECORDS, REVISIONS, ROWS, SOURCES, TEXT
from catalog.compiled.manifest import FileMark, Manifest, check
from catalog.compiled.tables import open_tables
from catalog.errors import NotFound
from catalog.resolve.tables import Tables
from catalog.search.port import TextIndex
from catalog.search.whoosh_index import open_index

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


class Compiled:
    """One edition. Everything is mapped when it opens, so it stays readable after its files were
    removed; safe to share between threads; compared by identity."""

    def __init__(self, folder: Path, manifest: Manifest) -> None:
        """folder: just checked; manifest: what the check returned. See `open_edition`."""
        self.folder = folder
        self.number = manifest.number
        self.hash = manifest.hash
        self.published_at = _EPOCH + timedelta(microseconds=manifest.published_at_us)
        self.author = manifest.author
        self.reason = manifest.reason
        self.program = manifest.program
        self.tables_hash = manifest.tables
        self.files = manifest.files
        self.tables: Tables = open_tables(folder)
        self.text: TextIndex = open_index(folder / TEXT)
        self._records = Blob(folder / RECORDS)
        self._revisions = json.loads((folder / RECORDS / REVISIONS).read_text(encoding="utf-8"))
        self._sources = Blob(folder / SOURCES)
        self._rows = Blob(folder / ROWS)

    @property
    def codes(self) -> tuple[str, ...]:
        """Every record's code, sorted."""
        return self._records.keys

    @cached_property
    def titles(self) -> Mapping[str, str]:
        """Every record's title by its code."""
        return dict(zip(self.tables.meta["codes"], self.tables.meta["titles"], strict=True))

    @property
    def source_keys(self) -> tuple[str, ...]:
        """Every source's key, sorted."""
        return self._sources.keys

    def record_bytes(self, code: str) -> bytes:
        """The record's canonical JSON as stored. Raises NotFound."""
        try:
            return self._records[code]
        except KeyError:
            raise self._absent("record", code) from None

    def revision(self, code: str) -> tuple[str, int]:
        """(hash, seq) of the record's revision. Raises NotFound."""
        try:
            digest, seq = self._revisions[self._records.place(code)]
        except KeyError:
            raise self._absent("record", code) from None
        return digest, seq

    def source_bytes(self, key: str) -> bytes:
        """The source's canonical JSON as stored. Raises NotFound."""
        try:
            return self._sources[key]
        except KeyError:
            raise self._absent("source", key) from None

    def row_bytes(self, code: str) -> bytes:
        """What the tables took from the record, as it was handed in. Raises NotFound."""
        try:
            return self._rows[code]
        except KeyError:
            raise self._absent("record", code) from None

    def _absent(self, kind: str, key: str) -> NotFound:
        return NotFound(
            f"Edition {self.number} has no {kind} {key}.", cure="Check how it is written, or ask an older edition."
        )


def open_edition(folder: Path, checked: dict[FileMark, str] | None = None) -> Compiled:
    """Check a compiled edition against its manifest, then open it.

    checked: see `check`. Raises IntegrityError naming the file that is wrong, Unavailable for another version's.
    """
    return Compiled(folder, check(folder, checked))
