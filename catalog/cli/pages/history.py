"""The history of a record and of a fact, and who was shown it, as lines."""

from collections.abc import Iterator, Sequence

from catalog.cli.paper import Paper, joined, minute
from catalog.services.fact_history import FactHistory
from catalog.services.shown import ShownView
from catalog.services.views import RevisionView

Spans = Sequence[tuple[int, int | None]]


def history_lines(revisions: Sequence[RevisionView], paper: Paper) -> Iterator[str]:
    """Every revision, newest first, with how much it changed."""
    for one in revisions:
        yield paper.across(f"Revision {one.seq}, {minute(one.time)}", spans_words(one.editions), bold=True)
        yield from paper.wrap(f"{one.author}: {one.reason}", 2)
        for change in one.changes.facts if one.seq > 1 else ():
            yield from paper.wrap(f"{change.path}: {change.old.state.label} -> {change.new.state.label}", 4)
        if one.seq == 1:
            yield from paper.wrap(f"{len(one.changes.facts)} facts, all new", 4)


def fact_history_lines(found: FactHistory, paper: Paper) -> Iterator[str]:
    """What one fact said, newest first."""
    yield paper.across(f"{found.title}: {found.label}", found.code, bold=True)
    for step in found.steps:
        yield paper.across(step.said or "not stated", spans_words(step.spans))
        doubted = "doubted by " if step.doubt else ""
        reason = step.doubt.reason if step.doubt else step.reason
        yield from paper.wrap(f"{minute(step.time)}, {doubted}{step.author}: {reason}", 2)
        if step.src:
            yield from paper.wrap(f"stated {joined(step.src)}", 2)
    if not found.steps:
        yield from paper.wrap("Nobody ever stated it.")


def shown_lines(view: ShownView, paper: Paper) -> Iterator[str]:
    """Who was shown a fact."""
    yield paper.across(f"{view.label}: {view.said or 'not stated'}", spans_words(view.spans), bold=True)
    yield from paper.wrap(f"Briefs that rest on it: {len(view.briefs)}. Devices that had it: {view.device_count}.")
    for brief in view.briefs:
        name = f"{brief.incident} {brief.letter}{brief.number}, edition {brief.edition}"
        yield paper.across(f"  {name}", f"{minute(brief.composed_at)}, opened {brief.opened}")
    for device in view.devices:
        yield paper.across(f"  {device.device}", f"edition {device.edition}, {device.first_day} to {device.last_day}")
    for notice in view.notices:
        yield from paper.wrap(f"Told {minute(notice.time)} by {notice.author}: {notice.words}")


def spans_words(spans: Spans) -> str:
    """ "editions 1 to 3, 5 and later"."""
    made = []
    for since, until in spans:
        if until is None:
            made.append(f"{since} and later")
        else:
            made.append(f"{since}" if until == since + 1 else f"{since} to {until - 1}")
    if not made:
        return "in no edition"
    return f"{'edition' if len(spans) == 1 and spans[0][1] == spans[0][0] + 1 else 'editions'} {', '.join(made)}"
