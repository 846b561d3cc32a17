"""What became of one cell that was read: a value, or why there is none, and what to say of it either way."""

from dataclasses import dataclass
from typing import Any

from catalog.domain.findings import Severity


@dataclass(frozen=True, slots=True)
class Problem:
    """Something to say of a cell; the reader of rows adds where it stands."""

    found: str
    allowed: str
    cure: str = ""
    severity: Severity = Severity.BLOCKS


@dataclass(frozen=True, slots=True)
class Read:
    """value: as documents store it; None where the cell cannot be read. problems: may come with a value."""

    value: Any = None
    problems: tuple[Problem, ...] = ()


def refused(found: str, allowed: str, cure: str = "") -> Read:
    return Read(None, (Problem(f'"{found}"', allowed, cure),))
