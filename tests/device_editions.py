"""Compiled editions of generated records, without a store and without a text index: what a phone's bundle needs."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from catalog.compiled import Compiled, EditionInput, RecordInput, build, open_edition
from catalog.domain.canonical import canonical_bytes
from catalog.domain.documents import record_from_document
from catalog.resolve.rows import Entry, row_of
from catalog.resolve.tables import Tables, tables_of

Documents = Mapping[str, dict[str, Any]]
PUBLISHED = 1_770_000_000_000_000  # microseconds


def compiled(root: Path, number: int, records: Documents, cited: Documents) -> Compiled:
    """An edition under `root`, current from now on."""
    tables = tables_of(row_of(Entry(code, record_from_document(each))) for code, each in records.items())
    given = EditionInput(
        number=number,
        hash=f"{number:064x}",
        published_at_us=PUBLISHED + number,
        author="A. Steward",
        reason="",
        records=[RecordInput(code, f"{code}-r", 1, canonical_bytes(each)) for code, each in records.items()],
        sources=[(key, canonical_bytes(each)) for key, each in cited.items()],
        rows=[],
        tables=Tables(tables.arrays, {**tables.meta, "withdrawn": [], "doubted": []}),
        texts=[],
    )
    return open_edition(build(root, lambda _: given))
