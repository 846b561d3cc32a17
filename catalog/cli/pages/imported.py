"""What a guide update would do, and what was found in its file, record by record."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from catalog.cli.paper import Paper, joined
from catalog.domain.numbers import counted

if TYPE_CHECKING:
    from catalog.intake.finding import Finding
    from catalog.services.importing_views import CheckedRecord, CheckedUpdate

_WORDS = (
    ("added", "new"),
    ("changed", "changed"),
    ("unchanged", "unchanged"),
    ("withdrawn", "not to be used any more"),
    ("left_out", "left out: something blocks them"),
    ("sources", "new guides and other sources"),
)
_OUTCOMES = {"added": "new", "changed": "changed", "withdrawn": "do not use", "left_out": "left out"}
_SEVERITIES = {
    "blocks": ("blocks", "block"),
    "needs a look": ("needs a look", "need a look"),
    "note": ("note", "notes"),
}
_MOST = 60  # findings printed; all are in --json and in the marked copy


def checked_lines(checked: "CheckedUpdate", paper: Paper) -> list[str]:
    """Counts, then each record with what becomes of it and what was found, then what to do next."""
    lines = paper.wrap(checked.name)
    for key, words in _WORDS:
        if checked.counts[key] or key in ("added", "changed", "unchanged", "withdrawn"):
            lines.append(f"  {checked.counts[key]:>7,}  {words}")
    tally = [f"{number:,} {_SEVERITIES[severity][number != 1]}" for severity, number in _told(checked).items()]
    lines += ["", *paper.wrap(f"Found: {', '.join(tally)}." if tally else "Nothing was found wrong.")]
    lines += _findings(checked, paper)
    return [*lines, "", *_next(checked, paper)]


def _told(checked: "CheckedUpdate") -> Mapping[str, int]:
    return {severity: number for severity, number in checked.severities().items() if number}


def _findings(checked: "CheckedUpdate", paper: Paper) -> Iterator[str]:
    by_record = checked.by_record()
    left = _MOST
    records: dict[str, CheckedRecord | None] = {record.name: record for record in checked.records}
    records = {"": None} | records | {name: None for name in by_record if name not in records}
    for name, record in records.items():
        findings = by_record.get(name, ())
        if record is None and not findings:
            continue
        if left <= 0:
            yield ""
            yield from paper.wrap("... and more; all of it is in --json and, cell by cell, in --marked FILE.")
            return
        yield ""
        if record is not None:
            said = joined((_OUTCOMES[record.outcome], record.code))
            yield paper.across(record.title, said, bold=True)
            if record.matched:
                changes = f"; {counted(record.changes, 'change')}" if record.changes else ""
                yield from paper.wrap(f"{record.matched}{changes}", 2)
        else:
            yield paper.heading(name or "The file")
        yield from _each(findings[:left], paper)
        left -= max(1, len(findings))


def _each(findings: "Sequence[Finding]", paper: Paper) -> Iterator[str]:
    for finding in findings:
        yield from paper.wrap(f"{str(finding.severity).upper()}: {finding.place}", 2, hang=2)
        about = f" ({finding.path})" if finding.path else ""
        yield from paper.entry("found", f"{finding.found}{about}", indent=4, column=13)
        yield from paper.entry("allowed", finding.allowed, indent=4, column=13)
        if finding.cure:
            yield from paper.entry("cure", finding.cure, indent=4, column=13)


def _next(checked: "CheckedUpdate", paper: Paper) -> list[str]:
    if checked.again:
        said = f"It was sent to review before, as update {checked.update}: nothing more was stored."
        return paper.wrap(f"{said} Nothing is published before it is approved.")
    if checked.update:
        return paper.wrap(f"Sent to review as update {checked.update}. Nothing is published before it is approved.")
    if checked.is_empty and not checked.findings:
        return paper.wrap("Nothing new: everything in it is listed just so.")
    if not checked.proposable and not checked.sources:
        return paper.wrap("Nothing of it can go to review as it stands.")
    sending = counted(len(checked.proposable), "record")
    return paper.wrap(f"Only checked, nothing stored. {sending} can go to review: add --as NAME.")
