"""What is measured on: generated records, read by two processes, and descriptions of some of them."""

import gc
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

from catalog.domain.documents import record_from_document
from catalog.resolve.field import Field
from catalog.resolve.parameters import shipped
from catalog.resolve.rows import Entry, Row, row_of
from catalog.resolve.tables import tables_of
from catalog.services.notes import record_text
from seed_demo.generator import families
from tests.bench.callers import Document, descriptions

SEED = 20261125
JOBS = 2


@dataclass(frozen=True, slots=True)
class Ground:
    """others: descriptions heard before those measured. texts: those measured, none of them said twice."""

    field: Field
    codes: Sequence[str]
    notes: Sequence[str]
    others: Sequence[str]
    texts: Sequence[str]


@dataclass(frozen=True, slots=True)
class _Part:
    count: int
    share: range
    every: int


def prepared(count: int, others: int, texts: int) -> Ground:
    """`count` records, and so many descriptions of records drawn from all over them."""
    edges = [count * job // JOBS for job in range(JOBS + 1)]
    every = max(1, count // (2 * texts))
    parts = [_Part(count, range(edges[job], edges[job + 1]), every) for job in range(JOBS)]
    with ProcessPoolExecutor(JOBS) as pool:
        made = [part for parts in pool.map(_part, parts) for part in parts]
    taken = sorted(((row, note) for row, note, _ in made), key=lambda pair: pair[0].code)
    described = [document for *_, document in made if document is not None]
    said = list(dict.fromkeys(descriptions(described, 2 * (others + texts), SEED)))
    return Ground(
        field=Field(tables_of(row for row, _ in taken), shipped(), 0.12),
        codes=[row.code for row, _ in taken],
        notes=[note for _, note in taken],
        others=said[:others],
        texts=said[others : others + texts],
    )


def _part(part: _Part) -> list[tuple[Row, str, Document | None]]:
    """Row and note of each record, and of some the document."""
    gc.disable()  # documents hold no circles
    made: list[tuple[Row, str, Document | None]] = []
    for family in families(part.count, SEED, part.share):
        for code, document in family.records:
            record = record_from_document(document)
            sample = document if len(made) % part.every == 0 else None
            made.append((row_of(Entry(code, record)), record_text(record), sample))
    return made
