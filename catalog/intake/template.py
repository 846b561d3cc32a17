"""An empty workbook to fill: drop-down lists, units, notes on every heading, and one filled example."""

import io
from collections.abc import Iterator

from catalog.intake.book import write_workbook
from catalog.intake.example import example_record, example_source
from catalog.intake.given import EXAMPLE
from catalog.intake.groups import Group
from catalog.intake.rows import Row, rows_of, source_rows


def template() -> bytes:
    """The workbook file. Its example rows are never taken in: their code says so."""
    made = io.BytesIO()
    write_workbook(_example(), made)
    return made.getvalue()


def _example() -> Iterator[tuple[Group, Row]]:
    yield from rows_of(EXAMPLE, example_record())
    yield from source_rows(example_source())
