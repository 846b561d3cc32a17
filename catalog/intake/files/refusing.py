"""Why a file, or a part of it, is not read any further."""


class Refused(Exception):
    """found, allowed and cure as in a finding; row, column where it has a place, else 0; sheet as in a finding."""

    def __init__(
        self, found: str, allowed: str, cure: str = "", *, row: int = 0, column: int = 0, sheet: str = ""
    ) -> None:
        super().__init__(found)
        self.found, self.allowed, self.cure = found, allowed, cure
        self.row, self.column, self.sheet = row, column, sheet
