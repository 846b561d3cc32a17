"""What a file holds, without a thought to what it means: rows of text with their places, or JSON documents."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from catalog.intake.finding import Finding


class Cell(NamedTuple):
    """One cell that is not empty. text: as it stands, ends trimmed; a number without trailing zeros, a date as
    2026-03-02, a switch as TRUE or FALSE. row, column: counted from 1.
    """

    text: str
    row: int
    column: int


Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a workbook, or one CSV file. file: where it stood. name: the sheet's, or the file's without ending.

    headings: the first row that is not empty. rows: those below it that are not, empty cells left out.
    """

    name: str
    headings: Row
    rows: Sequence[Row]
    file: str = ""


@dataclass(frozen=True, slots=True)
class Document:
    """One JSON object of a file.

    row: its line in JSON Lines, else its position in the file's list, from 1. about: what stood around the document
    where it came wrapped ("kind", "key", "reason" ...). text: the document, compact and with sorted keys: of a
    canonical document these are its canonical bytes. partial: it holds only what changes.
    """

    row: int
    text: bytes
    about: Mapping[str, Any] = field(default_factory=dict)
    partial: bool = False
    file: str = ""

    @property
    def content(self) -> dict[str, Any]:
        """The document."""
        made: dict[str, Any] = json.loads(self.text)
        return made


@dataclass(frozen=True, slots=True)
class Contents:
    """Everything a file holds. findings: what could not be read of it. refused: nothing of it is taken for that."""

    file: str
    sheets: tuple[Sheet, ...] = ()
    documents: Sequence[Document] = ()
    findings: tuple[Finding, ...] = ()
    refused: bool = False
