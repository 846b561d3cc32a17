"""How the reading process hands over what it read: lines of JSON that hold nothing but text and numbers.

A first character says what a line is: "S" a sheet, "R" a row of it, "D" a document, "F" a finding, "X" one for which
the whole file is refused, "E" the end with the number of cells, without which the process did not come to it. A large
workbook is read by several processes; every sheet says which it is.
"""

import json
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import repeat
from mmap import mmap
from typing import Any, BinaryIO

from catalog.intake.finding import Finding, Severity
from catalog.intake.sheets import Cell, Contents, Document, Row, Sheet

_encode = json.JSONEncoder(separators=(",", ":")).encode
_decode = json.JSONDecoder().raw_decode
_cell = partial(tuple.__new__, Cell)


class Writer:
    """Writes in the reading process. cells, documents: how many so far, of all files of a zip together."""

    def __init__(self, out: BinaryIO) -> None:
        self._out = out
        self.cells = 0
        self.documents = 0
        self._sheets = 0

    def sheet(self, file: str, name: str, headings: Row, at: int | None = None) -> None:
        """at: its position in the file, where not all before it are written."""
        self._line(b"S", [file, name, headings, self._sheets if at is None else at])
        self._sheets += 1

    def row(self, number: int, cells: Sequence[tuple[int, str]]) -> None:
        flat: list[int | str] = [number]
        for column, text in cells:
            flat += (column, text)
        self._line(b"R", flat)

    def document(self, made: Document) -> None:
        self.documents += 1
        self._line(b"D", [made.row, made.file, made.about, made.partial])
        self._out.write(made.text + b"\n")

    def finding(self, finding: Finding, *, whole: bool = False) -> None:
        """whole: nothing of the file is taken."""
        place = [finding.file, finding.sheet, finding.row, finding.column]
        self._line(
            b"X" if whole else b"F", [*place, finding.found, finding.allowed, finding.cure, str(finding.severity)]
        )

    def end(self) -> None:
        self._line(b"E", self.cells)
        self._out.flush()

    def _line(self, mark: bytes, content: object) -> None:
        self._out.write(mark + _encode(content).encode() + b"\n")


class _Lines:
    """Lines of a map, by where each begins."""

    def __init__(self, held: mmap, starts: Sequence[int]) -> None:
        self._held, self._starts = held, starts

    def __len__(self) -> int:
        return len(self._starts)

    def _at(self, start: int) -> tuple[bytes, int]:
        end = self._held.find(b"\n", start)
        return self._held[start:end], end + 1


class Rows(_Lines, Sequence[Row]):
    """Rows of a sheet, made when they are asked for."""

    def __getitem__(self, index: int | slice) -> Row | tuple[Row, ...]:  # type: ignore[override]
        if isinstance(index, slice):
            return tuple(map(self._row, self._starts[index]))
        return self._row(self._starts[index])

    def __iter__(self) -> Iterator[Row]:
        return map(self._row, self._starts)

    def _row(self, start: int) -> Row:
        # Every cell of a large file comes through here, twice: no Python is run per cell.
        flat = _decode(self._at(start + 1)[0].decode())[0]
        return tuple(map(_cell, zip(flat[2::2], repeat(flat[0]), flat[1::2])))


class Documents(_Lines, Sequence[Document]):
    """Documents, made when they are asked for."""

    def __getitem__(self, index: int | slice) -> Document | tuple[Document, ...]:  # type: ignore[override]
        if isinstance(index, slice):
            return tuple(map(self._document, self._starts[index]))
        return self._document(self._starts[index])

    def __iter__(self) -> Iterator[Document]:
        return map(self._document, self._starts)

    def _document(self, start: int) -> Document:
        head, after = self._at(start + 1)
        row, file, about, partial = json.loads(head)
        return Document(row, self._at(after)[0], about, partial, file)


@dataclass(eq=False)
class Handed:
    """What one process handed over. ended: whether it came to its end. cells: how many it read."""

    held: mmap
    sheets: list[tuple[list[Any], "array[int]"]] = field(default_factory=list)
    documents: "array[int]" = field(default_factory=lambda: array("Q"))
    findings: list[Finding] = field(default_factory=list)
    refused: bool = False
    ended: bool = False
    cells: int = 0


def handed(held: mmap) -> Handed:
    """What stands in a map, as far as it goes."""
    made = Handed(held)
    start, length = 0, len(held)
    while start < length:
        after = held.find(b"\n", start) + 1
        if not after:
            break
        match held[start]:
            case 82:  # R
                made.sheets[-1][1].append(start)
            case 68:  # D
                made.documents.append(start)
                after = held.find(b"\n", after) + 1
            case 83:  # S
                made.sheets.append((json.loads(held[start + 1 : after]), array("Q")))
            case 70 | 88:  # F, X
                made.findings.append(_finding(json.loads(held[start + 1 : after])))
                made.refused = made.refused or held[start] == 88
            case 69:  # E
                made.ended, made.cells = True, json.loads(held[start + 1 : after])
        if not after:
            break
        start = after
    return made


def contents(file: str, parts: Sequence[Handed]) -> Contents:
    """What several processes read of one file; documents are of the first."""
    findings = tuple(dict.fromkeys(finding for part in parts for finding in part.findings))
    if any(part.refused for part in parts):
        return Contents(file, findings=findings, refused=True)
    sheets = sorted(
        ((head, Rows(part.held, starts)) for part in parts for head, starts in part.sheets), key=lambda one: one[0][3]
    )
    return Contents(file, tuple(_sheet(*one) for one in sheets), Documents(parts[0].held, parts[0].documents), findings)


def _sheet(head: list[Any], rows: Rows) -> Sheet:
    file, name, headings, _ = head
    return Sheet(str(name), tuple(Cell(*cell) for cell in headings), rows, str(file))


def _finding(told: list[Any]) -> Finding:
    file, sheet, row, column, found, allowed, cure, severity = told
    return Finding(file, sheet, row, column, found, allowed, cure, Severity(severity))
