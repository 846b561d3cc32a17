"""Rows of one sheet on their way out: the headings first, each within the limits."""

from collections.abc import Iterable

from catalog.intake.files.limits import Limits
from catalog.intake.files.refusing import Refused
from catalog.intake.files.wire import Writer
from catalog.intake.finding import Finding
from catalog.intake.sheets import Cell


class Rows:
    """One sheet. Its cells count with those of all sheets before it."""

    def __init__(self, file: str, sheet: str, limits: Limits, out: Writer, at: int | None = None) -> None:
        """at: its position in the file, where not all of it is read here."""
        self.file, self.sheet, self._at = file, sheet, at
        self._limits, self._out = limits, out
        self._begun = False
        self._rows = 0

    def take(self, number: int, cells: Iterable[tuple[int, str]]) -> None:
        """One row: (column, text) of every cell that is not empty. Raises Refused beyond the limits."""
        kept = list(cells)
        if not kept:
            return
        limits = self._limits
        self._rows += 1
        if self._rows > limits.rows:
            raise Refused(f"more than {limits.rows:,} rows", f"at most {limits.rows:,}", "Split it.", row=number)
        if kept[-1][0] > limits.columns:
            found = f"something in column {kept[-1][0]:,}"
            cure = "Delete what stands far to the right; it is often a single stray cell."
            raise Refused(found, f"at most {limits.columns} columns", cure, row=number, column=kept[-1][0])
        self._out.cells += len(kept)
        if self._out.cells > limits.cells:
            raise Refused(f"more than {limits.cells:,} cells", f"at most {limits.cells:,}", "Split it.", row=number)
        longest = limits.text
        for column, text in kept:
            if len(text) > longest:
                cure = "Shorten it, or say it in a note."
                found = f"{len(text):,} characters"
                raise Refused(found, f"at most {limits.text:,} in a cell", cure, row=number, column=column)
            if "\0" in text:
                raise Refused("a null character", "text", "Type it again.", row=number, column=column)
        if self._begun:
            self._out.row(number, kept)
        else:
            headings = tuple(Cell(text, number, column) for column, text in kept)
            self._out.sheet(self.file, self.sheet, headings, self._at)
            self._begun = True

    def finding(self, number: int, column: int, found: str, allowed: str, cure: str) -> None:
        """Something in one cell that is not read; the row goes on without it."""
        self._out.finding(Finding(self.file, self.sheet, number, column, found, allowed, cure))
