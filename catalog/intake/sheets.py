"""What a file holds, without a thought to what it means: rows of text with their places, or JSON documents."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from catalog.intake.finding import Finding


@dataclass(frozen=True, slots=True)
class Cell:
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
    """One JSON object. row: its line in JSON Lines, else its position in the file's list, from 1."""

    row: int
    content: Mapping[str, Any]
    file: str = ""


@dataclass(frozen=True, slots=True)
class Contents:
    """Everything a file holds. findings: what could not be read of it; with one that blocks there is nothing else."""

    file: str
    sheets: tuple[Sheet, ...] = ()
    documents: Sequence[Document] = ()
    findings: tuple[Finding, ...] = ()
