"""What is wrong, or needs a second look, in a file somebody brought: always with the place it stands."""

from dataclasses import dataclass

from catalog.domain.findings import Severity

__all__ = ["Finding", "Severity", "column_letters"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding in a file.

    file: its name, of a file in a zip the member's. sheet: "" where the file has none. row, column: counted from 1;
    0 for the whole row, sheet or file. found: as it stands there. allowed: what may stand there, or why this cannot be
    right. cure: what to do. path: the fact or field it is about ("ports[a].place"), "" when none. record: the code, or
    the name where there is no code yet, of the record it belongs to; "" when none.
    """

    file: str
    sheet: str
    row: int
    column: int
    found: str
    allowed: str
    cure: str = ""
    severity: Severity = Severity.BLOCKS
    path: str = ""
    record: str = ""

    @property
    def place(self) -> str:
        """Where it stands, as a person looks it up: "update.xlsx, sheet ports, cell D7"."""
        sheet = f"sheet {self.sheet}" if self.sheet else ""
        if self.row and self.column and self.sheet:
            at = f"cell {column_letters(self.column)}{self.row}"
        elif self.row:
            at = f"row {self.row}" if self.sheet else f"line {self.row}"
        else:
            at = f"column {column_letters(self.column)}" if self.column else ""
        return ", ".join(filter(None, (self.file, sheet, at)))


def column_letters(column: int) -> str:
    """A column's letters in a workbook: 1 -> "A", 28 -> "AB"."""
    made = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        made = chr(ord("A") + rest) + made
    return made
