"""What is wrong, or needs a second look, in something a steward brought.

Every finding says where (a field path), what was found, what is allowed or why it matters, and
what to do about it.
"""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How far a finding goes. Values are what the API writes."""

    BLOCKS = "blocks"  # the record is refused
    LOOK = "needs a look"  # a person decides
    NOTE = "note"  # said, nothing to decide


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding. path: "ports[a].door.mechanism"; "" for the whole document.

    allowed: what may stand there, or why this cannot be right. cure: what to do.
    """

    path: str
    found: str
    allowed: str
    cure: str = ""
    severity: Severity = Severity.BLOCKS

    def __str__(self) -> str:
        where = f"{self.path}: " if self.path else ""
        return f"{where}found {self.found}. {self.allowed[:1].upper()}{self.allowed[1:]}. {self.cure}".strip()
