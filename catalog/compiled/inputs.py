"""What an edition is compiled from, handed in by the services."""

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from catalog.resolve.tables import Tables
from catalog.search.notes import Notes, notes_of
from catalog.search.port import TextDocument


class RecordInput(NamedTuple):
    """One record of the edition. content: its canonical JSON as stored."""

    code: str
    revision: str
    seq: int
    content: bytes


@dataclass(frozen=True, slots=True, eq=False)
class EditionInput:
    """A published edition. hash: lower-case hex. sources: (key, canonical JSON). Any order.

    rows: (code, bytes) of what the tables took from each record, handed back to the next compilation.
    """

    number: int
    hash: str
    published_at_us: int
    author: str
    reason: str
    records: Iterable[RecordInput]
    sources: Iterable[tuple[str, bytes]]
    rows: Iterable[tuple[str, bytes]]
    tables: Tables
    texts: Iterable[TextDocument] | Notes

    def settled(self) -> "EditionInput":
        """The same with its parts read once and put in order."""
        return replace(
            self,
            records=sorted(RecordInput(*record) for record in self.records),
            sources=sorted(self.sources),
            rows=sorted(self.rows),
            texts=self.notes(),
        )

    def notes(self) -> Notes:
        """Its notes in order."""
        return self.texts if isinstance(self.texts, Notes) else notes_of(self.texts)

    def digest(self) -> str:
        """SHA-256 of everything a settled input holds; equal inputs need not be compiled twice."""
        running = hashlib.sha256()
        for part in self._parts():
            running.update(len(part).to_bytes(8, "big"))
            running.update(part)
        return running.hexdigest()

    def _parts(self) -> Iterator[bytes]:
        yield json.dumps([self.number, self.hash, self.published_at_us, self.author, self.reason]).encode()
        yield json.dumps(
            [(code, revision, seq, len(content)) for code, revision, seq, content in self.records]
        ).encode()
        yield from (record.content for record in self.records)
        for part in (self.sources, self.rows):
            yield json.dumps([(key, len(content)) for key, content in part]).encode()
            yield from (content for _, content in part)
        for name, array in sorted(self.tables.arrays.items()):
            yield json.dumps(["array", name, array.dtype.str, array.shape]).encode()
            yield np.ascontiguousarray(array).tobytes()
        yield json.dumps(self.tables.meta).encode()
        yield b"".join(self.notes().digests)
