"""Editions, what changed between two of them, and what a check of every chain found."""

from collections.abc import Iterator, Sequence

from catalog.cli.pages.facts import wording_text
from catalog.cli.paper import Paper, minute
from catalog.domain.cautions import FULL
from catalog.domain.delta import RecordDelta
from catalog.domain.numbers import counted
from catalog.domain.record import attribute_at
from catalog.domain.wording import fact_wording
from catalog.services.views import EditionView, MemberChange, Verified

ACTION = {"added": "new", "changed": "changed", "withdrawn": "do not use", "restored": "in use again"}

# What is not a fact, by the first part of its path in a delta.
_PLAIN = {"identity": "{}", "order": "order of {}", "complete": "{}: said to be all of them by", "notes": "note {}"}


def edition_lines(editions: Sequence[EditionView], paper: Paper) -> list[str]:
    """One entry per edition, newest first as given."""
    lines: list[str] = []
    for edition in editions:
        lines.append(paper.across(f"edition {edition.number}", minute(edition.published_at), bold=True))
        lines += paper.wrap(f"{edition.reason} ({edition.author})", 2)
        lines += [f"  {counted(edition.records, 'record')}", f"  hash {edition.hash}"]
        lines.append("")
    return lines


def change_lines(changes: Sequence[MemberChange], paper: Paper) -> list[str]:
    """What happened to each member, fact by fact: before, then after."""
    if not changes:
        return paper.wrap("Nothing changed between them.")
    lines: list[str] = []
    for change in changes:
        lines.append(paper.across(change.title, f"{ACTION.get(change.action, change.action)}, {change.key}", bold=True))
        if change.reason:
            lines += paper.wrap(f"why: {change.reason}", 2)
        if change.delta is not None and change.action == "changed":
            lines += _delta(change.delta, paper)
        lines.append("")
    return [*lines, *(line for caution in FULL for line in paper.wrap(caution))]


def _delta(delta: RecordDelta, paper: Paper) -> Iterator[str]:
    for fact in delta.facts:
        attr = attribute_at(fact.path)
        yield from paper.wrap(f"{attr.label} ({fact.path})", 2, hang=2)
        yield from paper.entry("was", wording_text(fact_wording(attr, fact.old)), indent=4, column=10)
        yield from paper.entry("now", wording_text(fact_wording(attr, fact.new)), indent=4, column=10)
    for plain in delta.plain:
        kind, _, name = plain.path.partition(".")
        yield from paper.wrap(_PLAIN[kind].format(name.replace("_", " ")), 2)
        yield from paper.entry("was", plain.old or "not said", indent=4, column=10)
        yield from paper.entry("now", plain.new or "not said", indent=4, column=10)


def verified_lines(verified: Verified, paper: Paper) -> list[str]:
    """What was checked, and every fault by name."""
    checked = f"{counted(verified.revisions, 'revision')} and {counted(verified.editions, 'edition')} checked."
    if not verified.faults:
        return [*paper.wrap(f"{checked} Every chain holds. The newest edition's hash:"), verified.head]
    lines = paper.wrap(f"{checked} These do not hold:")
    for fault in verified.faults:
        where = f"{fault.kind} {fault.key}" + (f", revision {fault.seq}" if fault.kind == "record" else "")
        lines += paper.wrap(f"{where}: {fault.problem}", 2, hang=2)
    return lines
