"""The work list and the guides as lines."""

from collections.abc import Iterator, Sequence

from catalog.cli.paper import Paper, minute
from catalog.domain.sources import KIND
from catalog.services.sources import OldRecord, SourceRow
from catalog.services.work_entries import PHOTO_GONE, PHOTO_THERE, WorkEntry
from catalog.services.work_list import KIND_WORDS

_PHOTO = {PHOTO_THERE: "see it on the work list's page", PHOTO_GONE: "it was taken away"}


def work_lines(entries: Sequence[WorkEntry], limit: int, paper: Paper) -> Iterator[str]:
    """The entries, with how they are named."""
    yield paper.across(f"{len(entries)} {'entry' if len(entries) == 1 else 'entries'}", "", bold=True)
    for entry in entries[:limit]:
        yield paper.across(f"{KIND_WORDS[entry.kind]}: {entry.title}", entry.code)
        yield from paper.wrap(entry.detail, 2)
        yield from paper.wrap(f"{entry.id}{', with a photo' if entry.photo == PHOTO_THERE else ''}", 2)
    if len(entries) > limit:
        yield from paper.wrap(f"{len(entries) - limit} more: --limit {len(entries)}")


def entry_lines(entry: WorkEntry, paper: Paper) -> Iterator[str]:
    """One entry."""
    yield paper.across(f"{KIND_WORDS[entry.kind]}: {entry.title}", entry.code, bold=True)
    yield from paper.wrap(entry.detail, 2)
    if entry.time:
        yield from paper.wrap(f"Sent {minute(entry.time)}; they had revision {entry.revision[:12]}.", 2)
    if entry.photo:
        yield from paper.wrap(f"A photo came with it: {_PHOTO[entry.photo]}.", 2)
    if entry.state != "open":
        yield from paper.wrap(f"{entry.state} by {entry.by}: {entry.reason}", 2)


def source_lines(rows: Sequence[SourceRow], paper: Paper) -> Iterator[str]:
    """The guides."""
    for row in rows:
        yield paper.across(f"{row.number} issue {row.issue}: {row.title}", f"issued {row.issued}", bold=True)
        pages = f", {row.pages} pages" if row.pages else ""
        file = f", file {row.file[:12]}" if row.file else ", no file stored"
        yield from paper.wrap(f"{KIND.label_of(row.kind)}{pages}; {row.facts} facts of {row.records} records{file}", 2)


def old_lines(rows: Sequence[OldRecord], paper: Paper) -> Iterator[str]:
    """Records whose facts grow old."""
    for row in rows:
        yield paper.across(row.title, row.code)
        yield from paper.wrap(f"{row.old} of {row.facts} facts are older; {row.unsourced} cite nothing listed", 2)
