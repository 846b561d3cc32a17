"""What the page of a new guide update says, and its findings put together by record."""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.domain.findings import Severity
from catalog.intake.finding import Finding
from catalog.services.importing_sides import is_sides
from catalog.services.importing_views import CheckedRecord, CheckedUpdate, Outcome

WHAT = (
    "A workbook, CSV, JSON or JSON Lines file, or a zip of them. It is only checked first: nothing is stored in the "
    "catalogue until somebody else has approved it."
)
FILE = "File"
ENCODING = "Written in"
ENCODING_WHAT = "Only for text that is not UTF-8, such as cp1252; it is never guessed."
CHECK, SEND, MARKED, TEMPLATE = "Check it", "Send to review", "Download the marked copy", "An empty workbook to fill in"
REASON = "Why, for the history"
NOTHING_NEW = "Nothing new: everything in it is listed just so."
NOTHING_TO_SEND = "Nothing of it can go to review as it stands. Put right what blocks and bring it again."
LEFT_OUT = "What blocks leaves its whole record out. Put it right in the marked copy and bring that."
KEEP = "Keep both sides as disputed"
COUNTS = (
    ("added", "new"),
    ("changed", "changed"),
    ("unchanged", "unchanged"),
    ("withdrawn", "not to be used any more"),
    ("left_out", "left out"),
    ("sources", "new guides and other sources"),
)
OUTCOMES = {"added": "new", "changed": "changed", "withdrawn": "do not use", "left_out": "left out"}
SEVERITIES = {Severity.BLOCKS: "Blocks", Severity.LOOK: "Needs a look", Severity.NOTE: "Note"}


@dataclass(frozen=True, slots=True)
class Group:
    """A record with what was found of it; record is None for what belongs to the file."""

    name: str
    record: CheckedRecord | None
    findings: Sequence[Finding]


def groups(checked: CheckedUpdate, most: int) -> tuple[Group, ...]:
    """The file's own findings, then records: those left out first, then those that need a look, then the rest."""
    by_record = dict(checked.by_record())
    records = {record.name: record for record in checked.records}
    names = [name for name in by_record if name not in records]
    made = [Group(name, None, by_record[name]) for name in sorted(names)]
    rest = [Group(name, record, by_record.get(name, ())) for name, record in records.items()]
    rest.sort(key=lambda group: (_rank(group), group.name))
    return tuple([*made, *rest][:most])


def disputable(finding: Finding) -> str:
    """What to send to keep both sides of a finding; "" where it has none."""
    return f"{finding.record}:{finding.path}" if finding.severity is Severity.LOOK and is_sides(finding.allowed) else ""


def _rank(group: Group) -> int:
    if group.record is not None and group.record.outcome is Outcome.LEFT_OUT:
        return 0
    return 1 if any(finding.severity is Severity.LOOK for finding in group.findings) else 2
