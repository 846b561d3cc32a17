"""The reader's sayings as a page of lines."""

from collections import Counter

from catalog.cli.paper import Paper
from catalog.domain.numbers import counted
from catalog.resolve.reading.sayings import Saying
from catalog.services.sayings import Sayings


def saying_lines(found: Sayings, paper: Paper, *, asked: bool) -> list[str]:
    """Each row with what it means and its condition; when nothing was asked, how many there are about what."""
    where = f"edition {found.listed_in}" if found.listed_in else "this program; no edition lists them yet"
    made = paper.wrap(f"{counted(len(found.rows), 'row', 'rows')} of {found.total:,}, as in {where}.")
    if found.changed:
        made += paper.wrap(
            f"This program reads by newer tables in {', '.join(found.changed)}; the next publication lists them."
        )
    if not asked:
        counts = Counter(row.attribute for row in found.rows)
        return [*made, "", *(paper.across(about, f"{counts[about]}") for about in found.attributes)]
    if not found.rows:
        return [*made, *paper.wrap("Nothing is read from these words. Try one word, or leave --about out.")]
    return [*made, *(line for row in found.rows for line in _row(row, paper))]


def _row(row: Saying, paper: Paper) -> list[str]:
    value = row.value.replace("|", " or ")
    made = ["", paper.heading(f"{row.attribute}: {value}"), *paper.wrap(", ".join(row.says), 2)]
    for name, entries in row.sets.items():
        made += paper.wrap(f"<{name}>: {', '.join(entry or '(nothing)' for entry in entries)}", 4, hang=2)
    if row.only_if:
        made += paper.wrap(f"only if: {row.only_if}", 2)
    if row.not_before:
        made += paper.wrap(f"not before: {', '.join(row.not_before)}", 2, hang=2)
    if row.doubt:
        made += paper.wrap(f"carries a doubt: {row.doubt}", 2)
    return made
