"""What a file says of one record."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from catalog.intake.claims import Claim
from catalog.intake.finding import Finding

EXAMPLE = "EXAMPLE"  # the code of the filled example in a template, and how the number of its source begins
NEW_ITEM = "?"  # begins the id of a row that gives none: "ports[?2]"


class Where(NamedTuple):
    """A cell of a file. row, column: from 1; column 0 is the whole row."""

    file: str
    sheet: str
    row: int
    column: int


class GivenFact(NamedTuple):
    """What a file says at one path.

    claims: None leaves what is there; () is NOT STATED; one claim, or the sides of a dispute, without their sources.
    Of what is no fact (identity, notes) the one claim is {"value": ...}. sources: None leaves what is there, else
    those of each side.
    """

    claims: tuple[Claim, ...] | None
    sources: tuple[tuple[str, ...], ...] | None = None


@dataclass(frozen=True, slots=True)
class GivenItem:
    """A row about an item of a list. position: from 1, None where the file does not say."""

    removed: bool = False
    position: int | None = None


@dataclass(frozen=True, slots=True)
class Given:
    """Everything a file says of one record.

    code: a record's code, "" where the file gives none. name: what the file calls it. action: "" or "do not use",
    with its reason. sets: by path ("ports[a].place", "identity.make", "complete.ports", "notes[a].text"). items: by
    path ("ports[a]"), in the file's order. cells: where each path stands, sources under the path and ".src". whole: a
    whole document instead of all these. findings: what could not be read of it, and what else to say.
    """

    code: str
    name: str
    action: str = ""
    reason: str = ""
    sets: Mapping[str, GivenFact] = field(default_factory=dict)
    items: Mapping[str, GivenItem] = field(default_factory=dict)
    cells: Mapping[str, Where] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    whole: Mapping[str, Any] | None = None

    def place_of(self, path: str) -> Where | None:
        """Where a path stands in the file, or the nearest thing it lies in that does."""
        while path and len(self.cells) > 1:
            if path in self.cells:
                return self.cells[path]
            path = path[: max(path.rfind("."), path.rfind("["), 0)]
        return next(iter(self.cells.values()), None)
