"""What comes of checking a guide update: plain, frozen, without HTTP or terminal words."""

import json
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from typing import Any

from catalog.intake.finding import Finding, Severity


class Outcome(StrEnum):
    """What an update would do with a record. Values are the names of the counts."""

    ADDED = "added"
    CHANGED = "changed"
    UNCHANGED = "unchanged"
    WITHDRAWN = "withdrawn"
    LEFT_OUT = "left_out"  # something blocks it


class Packed(Mapping[str, Any]):
    """A document kept small: ten thousand of them are held while an update is checked. What it gives is not altered.

    written: its JSON.
    """

    def __init__(self, written: bytes) -> None:
        self._packed = zlib.compress(written, 1)

    def __getitem__(self, key: str) -> Any:
        return _unpacked(self._packed)[key]

    def __iter__(self) -> Iterator[str]:
        return iter(_unpacked(self._packed))

    def __len__(self) -> int:
        return len(_unpacked(self._packed))


@lru_cache(maxsize=2)
def _unpacked(packed: bytes) -> dict[str, Any]:
    # `dict()` asks for one key after the other.
    made: dict[str, Any] = json.loads(zlib.decompress(packed))
    return made


@dataclass(frozen=True, slots=True)
class CheckedRecord:
    """What an update would do with one record.

    code: "" for a new one, which is given its code when it is proposed. title: the vehicle's name. matched: how it was
    found, in words. base: hash of the revision it is laid over, ZERO for none. document: as it would be, None where
    nothing is or where it is not to be used any more. cells: fact path -> "sheet!row:column". key: what tells it from
    the other records of the file. changes: how many facts and fields differ.
    """

    key: str
    code: str
    title: str
    outcome: Outcome
    matched: str = ""
    base: str = ""
    document: Packed | None = None
    reason: str = ""
    cells: Mapping[str, str] = field(default_factory=dict)
    changes: int = 0

    @property
    def name(self) -> str:
        """What its findings call it."""
        return self.code or self.title


@dataclass(frozen=True, slots=True)
class CheckedUpdate:
    """A file held against what is listed.

    edition: that it was held against, 0 for none. counts: by outcome, and "sources" that are new. records: all that
    are not unchanged, in the file's order. sources: new documents by "NUMBER/ISSUE". findings: what blocks first.
    update: its number once it was proposed, "" before. again: it had been proposed before, so nothing was stored now.
    """

    name: str
    file_hash: str
    edition: int
    counts: Mapping[str, int]
    records: Sequence[CheckedRecord]
    sources: Mapping[str, Mapping[str, Any]]
    findings: Sequence[Finding]
    update: str = ""
    again: bool = False

    @property
    def proposable(self) -> Sequence[CheckedRecord]:
        """The records that can go to review."""
        return [one for one in self.records if one.outcome is not Outcome.LEFT_OUT]

    @property
    def is_empty(self) -> bool:
        """Whether nothing of it is new and nothing is left out."""
        return not self.records and not self.sources

    def severities(self) -> Mapping[str, int]:
        """How many findings there are of each severity."""
        return {str(one): sum(found.severity is one for found in self.findings) for one in Severity}

    def by_record(self) -> Mapping[str, Sequence[Finding]]:
        """Findings by the record they belong to, "" for those of the file; in order."""
        made: dict[str, list[Finding]] = {}
        for finding in self.findings:
            made.setdefault(finding.record, []).append(finding)
        return made
