"""What was found in the file of a guide update: all of it at once, or a part as it is asked for."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sqlalchemy import Connection

from catalog.domain.roles import Right
from catalog.errors import BadInput
from catalog.intake.finding import Severity, column_letters
from catalog.services.acting import Actor, require
from catalog.services.house import House
from catalog.services.narrowing import with_words
from catalog.services.review_matters import known_update
from catalog.store.engine import read
from catalog.store.updates import codes_in, packed_findings, unpack

StoredFinding = Mapping[str, Any]
SEVERITIES = tuple(map(str, Severity))
_TOLD = ("file", "sheet", "cell", "record", "path", "found", "allowed", "cure")


@dataclass(frozen=True, slots=True)
class FindingsAsked:
    """severity: one of SEVERITIES, "" for all. words: all in it. record: its code or name, "" for all."""

    severity: str = ""
    words: str = ""
    record: str = ""
    offset: int = 0
    limit: int = 50


@dataclass(frozen=True, slots=True)
class FindingsPart:
    """name: of the update. findings: those asked for; total: how many there are of such. counts: of all, by severity.
    changed: the records of those asked for that the update changes; of what is blocked nothing is taken in."""

    name: str
    findings: tuple[StoredFinding, ...]
    total: int
    counts: Mapping[str, int]
    changed: frozenset[str]


def read_findings(house: House, actor: Actor | None, number: int, asked: FindingsAsked) -> FindingsPart:
    """The findings asked for, what blocks first. Raises NotSignedIn, Forbidden, BadInput, NotFound, Unavailable."""
    require(actor, Right.UPDATE)
    if asked.severity not in ("", *SEVERITIES):
        raise BadInput(f"severity is {asked.severity!r}.", cure=f"Use one of: {', '.join(SEVERITIES)}.")
    with read(house.engine) as conn:
        name = known_update(conn, number).name
        every = findings_of(conn, number)
        said = with_words(asked.words)
        found = [
            one
            for one in every
            if asked.severity in ("", one["severity"])
            and asked.record in ("", one["record"])
            and (not asked.words or said(" ".join(str(one.get(key, "")) for key in _TOLD)))
        ]
        part = tuple(found[asked.offset : asked.offset + asked.limit])
        changed = frozenset(codes_in(conn, number, [one["record"] for one in part]))
    return FindingsPart(name, part, len(found), Counter(one["severity"] for one in every), changed)


def findings_of(conn: Connection, number: int) -> tuple[StoredFinding, ...]:
    """All findings of an update that is there, with their cells as a workbook names them."""
    return _unpacked(packed_findings(conn, number))


@lru_cache(maxsize=4)
def _unpacked(packed: bytes) -> tuple[StoredFinding, ...]:
    # Kept, since they never change and every page of an update tells how many there are.
    return tuple(map(_placed, unpack(packed)))


def _placed(finding: StoredFinding) -> StoredFinding:
    """With the cell as a workbook names it."""
    row, column = finding.get("row"), finding.get("column")
    told = {"severity": "", "record": "", **finding}
    if not isinstance(row, int) or not isinstance(column, int) or not row or not column:
        return told
    return {**told, "cell": f"{column_letters(column)}{row}"}
