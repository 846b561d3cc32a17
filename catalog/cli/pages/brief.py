"""A brief as a page of lines: what must not be missed first, then what is said, then what became of it."""

from collections.abc import Iterator

from catalog.cli.paper import Paper, minute
from catalog.domain.cautions import edition_words
from catalog.plan.brief.model import Section
from catalog.services.brief_views import BriefView

_KINDS = {"brief": "Brief", "correction": "CORRECTION", "slip": "Hand-over slip"}
_MOST = 12  # changes of a newer edition


def brief_lines(view: BriefView, paper: Paper, *, whole: bool) -> list[str]:
    """whole: the full text besides what is said over the radio."""
    return [
        *_which(view, paper),
        *_beside(view, paper),
        "",
        *(line for text in view.brief.radio for line in paper.wrap(text, 2, hang=2)),
        *(_sections(view.brief.full, paper) if whole or view.kind == "slip" else ()),
        "",
        *_became(view, paper),
        *(line for text in view.brief.warnings for line in paper.wrap(text)),
    ]


def _which(view: BriefView, paper: Paper) -> Iterator[str]:
    edition = view.composed.edition
    if view.mark:
        yield from paper.wrap(view.mark)
    if view.composed.notice:
        yield from paper.wrap(view.composed.notice)
    yield paper.heading(f"{_KINDS[view.kind]}: vehicle {view.letter}, {view.title}")
    fixed = f"Fixed to {edition_words(edition.number, edition.published_at)}."
    if view.stored:
        yield from paper.wrap(f"{view.id}, incident {view.incident}, brief {view.number} for vehicle {view.letter}.")
        by = f"{fixed} Composed {minute(view.composed_at)} by {view.composed_by}."
        yield from paper.wrap(by)
    else:
        yield from paper.wrap(fixed)
    if view.link and view.expires_at:
        yield from paper.wrap(f"Link, told this once: {view.link} (ends {minute(view.expires_at)})")


def _beside(view: BriefView, paper: Paper) -> Iterator[str]:
    """What makes it hold no more: recalled, corrected, or otherwise in a newer edition."""
    if told := view.recalled:
        yield paper.heading("RECALLED: do not go by this brief")
        yield from paper.wrap(f"Do instead: {told.instead}", 2, hang=2)
        yield from paper.wrap(f"Why: {told.why} ({told.by}, {minute(told.at)})", 2, hang=2)
    for one in view.followed_by:
        if one.changes:
            yield paper.heading(f"CORRECTION follows: {one.id}, {one.composed_at:%H:%M} UTC")
            for change in one.changes:
                yield from paper.wrap(f"{change.label}: was {change.was} Now: {change.now}", 2, hang=2)
    if view.newer and view.newer.concerns:
        yield paper.heading(f"Edition {view.newer.edition} says otherwise now")
        for gone in view.newer.gone:
            yield from paper.wrap(f"DO NOT USE {gone.code}: {gone.reason}", 2, hang=2)
        for fact in view.newer.facts[:_MOST]:
            now = f"doubted at {minute(fact.doubted)}" if fact.doubted else f"now {fact.now}"
            yield from paper.wrap(f"{fact.label}: was {fact.was}; {now}", 2, hang=2)
        if len(view.newer.facts) > _MOST:
            yield f"  and {len(view.newer.facts) - _MOST} more"
    elif view.newer:
        yield from paper.wrap(f"Nothing in it reads otherwise in edition {view.newer.edition}.")


def _sections(sections: tuple[Section, ...], paper: Paper) -> Iterator[str]:
    for section in sections:
        yield ""
        yield paper.heading(section.title.upper())
        for line in section.lines:
            number = f"{line.number:2}. " if line.number else ""
            lead = f"{line.lead}: " if line.lead else ""
            yield from paper.wrap(f"{number}{lead}{line.text}", 4 * bool(line.level), hang=2)


def _became(view: BriefView, paper: Paper) -> Iterator[str]:
    if not view.stored:
        return
    for sent in view.sent:
        to = f" to {sent.to}" if sent.to else ""
        yield from paper.wrap(f"Sent ({sent.form}){to}, {sent.at:%H:%M} UTC, {sent.by}")
    for told in view.read_back:
        words = f": {told.words}" if told.words else ""
        yield from paper.wrap(f"Read back by {told.who}{words}, {told.at:%H:%M} UTC, {told.by}")
    if not view.read_back:
        yield "Not read back yet."
    if view.openings:
        yield f"Link opened first {view.openings[0]:%H:%M} UTC, last {view.openings[-1]:%H:%M} UTC"
