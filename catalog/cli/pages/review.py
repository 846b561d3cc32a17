"""Guide updates as lines: the list, one update, one record field by field, the checks before publishing."""

from collections.abc import Iterator, Mapping, Sequence

from catalog.cli.pages.facts import wording_text
from catalog.cli.paper import Paper, minute
from catalog.domain.caution import Caution
from catalog.domain.facts import Fact
from catalog.domain.numbers import counted
from catalog.domain.record import attribute_at
from catalog.domain.wording import fact_wording
from catalog.services.change_sets import tally
from catalog.services.gates import Gate
from catalog.services.review_records import ReviewChange
from catalog.services.review_state import WITHDRAWN
from catalog.services.update_reading import RecordReview, UpdateView, cell_words
from catalog.services.update_standings import RecordLine
from catalog.services.updates import UpdateSummary
from catalog.services.watch_list import Watch

# The margin says what the word beside it says: less cautious, more, or neither.
_MARK = {Caution.LESS: "!", Caution.MORE: "+", Caution.NEUTRAL: "="}
_ACTION = {"added": "new", "changed": "changed", "withdrawn": "do not use"}


def update_list_lines(updates: Sequence[UpdateSummary], total: int, paper: Paper) -> Iterator[str]:
    """One entry per update, newest first."""
    if not updates:
        yield "There is no such guide update."
    for one in updates:
        state = f"{one.state}, edition {one.edition}" if one.edition else one.state
        yield paper.across(f"{one.number}  {one.name}", state, bold=True)
        told = f"{one.origin} by {one.author}, {minute(one.time)}; {counted(one.records, 'record')}"
        yield from paper.wrap(f"{told}; {_pressing(one.critical, one.less)}", 2)
    if total > len(updates):
        yield f"{total} in all."


def update_page_lines(view: UpdateView, paper: Paper) -> Iterator[str]:
    """One update: how its records stand, and those asked for."""
    one = view.summary
    yield paper.across(f"Guide update {one.number}: {one.name}", one.state, bold=True)
    yield from paper.wrap(f"{one.origin} by {one.author}, {minute(one.time)}", 2)
    states = ", ".join(f"{count} {state}" for state, count in sorted(view.states.items()))
    yield from paper.wrap(f"{counted(one.records, 'record')}: {states or 'none'}", 2)
    yield from paper.wrap(_pressing(one.critical, one.less), 2)
    if view.sources:
        yield from paper.wrap(f"brings {', '.join(view.sources)}", 2)
    for finding in view.findings:
        yield from paper.wrap(_finding(finding), 2, hang=2)
    for remark in view.remarks:
        yield from paper.wrap(f"{remark.author}, {remark.kind}: {remark.words}", 2, hang=2)
    yield ""
    for line in view.lines:
        yield from _record_line(line, paper)
    if view.total > len(view.lines):
        yield f"{view.total} records in all; ask for the next with --after {len(view.lines)}."


def record_page_lines(review: RecordReview, paper: Paper) -> Iterator[str]:
    """One record, most pressing change first."""
    record = review.record
    yield paper.across(f"{record.title} [{record.code}]", _ACTION[record.action], bold=True)
    yield from paper.wrap(f"guide update {review.summary.number}, {review.summary.name}: {record.reason}", 2)
    counts = tally(tuple(change.change for change in record.changes))
    told = f"{counts.gained} gained, {counts.lost} lost, {counts.contradicted} stated otherwise"
    yield from paper.wrap(f"{counted(counts.changes, 'change')}: {told}; {_pressing(counts.critical, counts.less)}", 2)
    if record.stale:
        words = "It has moved on since: what is listed now stands below as was. Bring it up to it: review rebase."
        yield from paper.wrap(words, 2)
    if review.refusal:
        yield from paper.wrap(review.refusal, 2)
    for comment in record.comments:
        yield from paper.wrap(f"{comment.author}: {comment.words}", 2, hang=2)
    yield ""
    for change in record.changes:
        yield from _change(change, paper)


def gate_lines(gates: Sequence[Gate], overrides: Mapping[str, str], paper: Paper) -> Iterator[str]:
    """The checks before publishing."""
    for gate in gates:
        yield paper.across(gate.title, gate.outcome, bold=True)
        yield from paper.wrap(gate.words, 2)
        for detail in gate.details:
            yield from paper.wrap(detail, 4, hang=2)
        if gate.key in overrides:
            yield from paper.wrap(f"published all the same: {overrides[gate.key]}", 2)


def watch_lines(watches: Sequence[Watch], paper: Paper) -> Iterator[str]:
    """The watch list."""
    if not watches:
        yield "Nothing is watched."
    for one in watches:
        first = "first" if one.rank == 1 else f"among the first {one.rank}"
        yield paper.across(f"{one.number}  {one.name}", f"{first}: {one.title} [{one.code}]", bold=True)
        yield from paper.wrap(f"{', '.join(one.cues)} ({one.author}, {one.time:%Y-%m-%d})", 4)


def _record_line(line: RecordLine, paper: Paper) -> Iterator[str]:
    moved = ", has moved on" if line.moved else ""
    yield paper.across(f"{line.title} [{line.code}]", f"{_ACTION[line.action]}: {line.state}{moved}")
    told = f"{counted(line.changes, 'change')}; {_pressing(line.critical, line.less)}"
    yield from paper.wrap(told, 2)


def _change(change: ReviewChange, paper: Paper) -> Iterator[str]:
    one = change.change
    label = "do not use" if one.path == WITHDRAWN else label_of(one.path)
    mark = _MARK[one.weighed.caution]
    decided = f", by {change.decision.author}" if change.decision else ""
    yield paper.across(f"{mark} {label} ({one.path})", f"{change.state}{decided}")
    if change.before is not None:
        yield from paper.entry("was, when made", said(one.path, change.before), indent=4, column=20)
    yield from paper.entry("was", said(one.path, one.old), indent=4, column=20)
    yield from paper.entry("now", said(one.path, one.new), indent=4, column=20)
    two = "; two persons" if one.weighed.critical else ""
    yield from paper.entry("for the crew", f"{one.weighed.caution}: {one.weighed.why}{two}", indent=4, column=20)
    if change.cell:
        yield from paper.entry("from", cell_words(change.cell), indent=4, column=20)
    for comment in change.comments:
        yield from paper.entry(comment.author, comment.words, indent=4, column=20)


def label_of(path: str) -> str:
    """What a field is called."""
    try:
        return attribute_at(path).label
    except KeyError:
        return path.replace(".", ": ", 1).replace("_", " ")


def said(path: str, side: Fact | str) -> str:
    """A side of a change in words, with what it cites."""
    if isinstance(side, str):
        return side or "not said"
    return wording_text(fact_wording(attribute_at(path), side))


def _pressing(critical: int, less: int) -> str:
    return f"{critical} safety-critical, {less} less cautious"


def _finding(finding: Mapping[str, object]) -> str:
    where = ", ".join(f"{key} {finding[key]}" for key in ("sheet", "cell") if finding.get(key)) or "the file"
    told = "; ".join(f"{key} {finding[key]}" for key in ("found", "allowed", "cure") if finding.get(key))
    return f"{finding.get('severity', 'note')}: {where}: {told}"
