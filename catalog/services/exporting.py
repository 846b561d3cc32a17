"""An edition's records and sources as a file: JSON Lines as stored, or a workbook or CSV to edit and bring back."""

import json
from collections.abc import Iterable, Iterator, Mapping
from enum import StrEnum
from typing import Any, BinaryIO

from catalog.domain.roles import Right
from catalog.domain.upgrade import upgrade
from catalog.errors import NotFound
from catalog.services.acting import Actor, require
from catalog.services.house import House
from catalog.services.trail import note_alone
from catalog.store.engine import read
from catalog.store.read import edition as stored_edition
from catalog.store.read import latest, members


class Form(StrEnum):
    """How an export is written."""

    JSONL = "jsonl"
    XLSX = "xlsx"
    CSV = "csv"  # a zip of one file a group

    @property
    def media_type(self) -> str:
        return _MEDIA_TYPES[self]

    @property
    def ending(self) -> str:
        return "zip" if self is Form.CSV else str(self)


_MEDIA_TYPES = {
    Form.JSONL: "application/jsonl",
    Form.XLSX: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    Form.CSV: "application/zip",
}


def export_records(
    house: House, actor: Actor | None, form: Form, *, edition: int | None = None
) -> Iterator[dict[str, Any]]:
    """{"kind", "key", "edition", "revision", "document"} of every source, then every record, by key.

    Documents are as stored. It is in the trail before the first is given. Raises NotSignedIn, Forbidden, NotFound,
    Unavailable.
    """
    by = require(actor, Right.UPDATE)
    with read(house.engine) as conn:
        found = latest(conn) if edition is None else stored_edition(conn, edition)
    if found is None:
        cure = "List them: chockbook edition list"
        raise NotFound(f"There is no edition {edition or ''}".strip() + ".", cure=cure)
    note_alone(house, by, "export", f"edition {found.number}", {"form": form})
    return _documents(house, found.number)


def write_export(documents: Iterable[Mapping[str, Any]], form: Form, sink: BinaryIO) -> int:
    """Write what `export_records` gives. Returns how many documents. Raises BadInput for what the form cannot hold."""
    counted = _Counted(documents)
    if form is Form.JSONL:
        for document in counted:
            sink.write(json.dumps(document, ensure_ascii=False, separators=(",", ":")).encode() + b"\n")
    else:
        _write_rows(counted, form, sink)
    return counted.count


def _write_rows(documents: Iterable[Mapping[str, Any]], form: Form, sink: BinaryIO) -> None:
    # The workbook library takes a while to load, and only exports and imports need it.
    from catalog.intake.book import write_workbook
    from catalog.intake.csv_files import write_csv
    from catalog.intake.rows import rows_of, source_rows

    rows = (
        row
        for document in documents
        for row in (
            rows_of(document["key"], upgrade(document["document"]))
            if document["kind"] == "record"
            else source_rows(document["document"])
        )
    )
    (write_workbook if form is Form.XLSX else write_csv)(rows, sink)


class _Counted:
    """Counts what goes by."""

    def __init__(self, documents: Iterable[Mapping[str, Any]]) -> None:
        self._documents = documents
        self.count = 0

    def __iter__(self) -> Iterator[Mapping[str, Any]]:
        for document in self._documents:
            self.count += 1
            yield document


def _documents(house: House, number: int) -> Iterator[dict[str, Any]]:
    with read(house.engine) as conn:
        for kind in ("source", "record"):
            for member in members(conn, number, kind):
                yield {
                    "kind": kind,
                    "key": member.key,
                    "edition": number,
                    "revision": member.revision,
                    "document": member.document,
                }
