"""A record of a guide update as a page shows it: old, new, for the crew, where it came from, what was decided."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalog.domain.caution import Caution
from catalog.domain.facts import Fact
from catalog.domain.patching import fields_of
from catalog.domain.record import attribute_at
from catalog.domain.sources import Source
from catalog.domain.wording import sentence
from catalog.services.edited import cell_of
from catalog.services.review_records import ReviewChange
from catalog.services.review_state import WITHDRAWN
from catalog.services.update_reading import RecordReview, cell_words
from catalog.web.changes import path_words, plain_label
from catalog.web.facts import FactView, fact_view

# Names of the marks, not colours: filled triangle, hollow triangle, two bars.
_MARKS = {Caution.LESS: "less", Caution.MORE: "more", Caution.NEUTRAL: "neutral"}


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a change. view: of a fact; None where it is text."""

    view: FactView | None
    text: str


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One change. anchor: its id on the page. cell: value and sources to edit, None where it cannot be edited here.
    own: whether this person has a hand in it and it is critical, so that they cannot accept it."""

    anchor: str
    path: str
    of: str
    label: str
    where: str
    old: Side
    new: Side
    before: Side | None
    mark: str
    caution: str
    why: str
    critical: bool
    state: str
    decided: str
    own: bool
    source: str
    cell: tuple[str, str] | None
    comments: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class RecordRows:
    """The changes of one record, critical first."""

    critical: tuple[ChangeRow, ...]
    other: tuple[ChangeRow, ...]

    @property
    def all(self) -> tuple[ChangeRow, ...]:
        return (*self.critical, *self.other)


def record_rows(review: RecordReview, who: str, *, approves: bool) -> RecordRows:
    """Rows of one record. who: the account that looks."""
    fields = fields_of(review.record.document)
    made = []
    for number, change in enumerate(review.record.changes, 1):
        path = change.change.path
        fact = isinstance(change.change.new, Fact) and review.record.document is not None
        cell = cell_of(path, fields.get(path)) if fact else None
        own = change.change.weighed.critical and (not approves or who in change.hands)
        made.append(replace(_row(change, review.sources), anchor=f"c{number}", cell=cell, own=own))
    return RecordRows(tuple(row for row in made if row.critical), tuple(row for row in made if not row.critical))


def _row(change: ReviewChange, sources: Mapping[str, Source]) -> ChangeRow:
    one = change.change
    label, where = _named(one.path)
    return ChangeRow(
        anchor="",
        path=one.path,
        of=change.of,
        label=label,
        where=where,
        old=_side(one.path, one.old, sources),
        new=_side(one.path, one.new, sources),
        before=None if change.before is None else _side(one.path, change.before, sources),
        mark=_MARKS[one.weighed.caution],
        caution=sentence(str(one.weighed.caution)),
        why=one.weighed.why,
        critical=one.weighed.critical,
        state=change.state,
        decided=change.decision.author if change.decision else "",
        own=False,
        source=cell_words(change.cell),
        cell=None,
        comments=tuple((comment.author, comment.words) for comment in change.comments),
    )


def _named(path: str) -> tuple[str, str]:
    if path == WITHDRAWN:
        return "Do not use", "the whole record"
    try:
        return sentence(attribute_at(path).label), path_words(path)
    except KeyError:
        return plain_label(path), ""


def _side(path: str, side: Fact | str, sources: Mapping[str, Source]) -> Side:
    if isinstance(side, str):
        return Side(None, side)
    return Side(fact_view(path, attribute_at(path), side, sources), "")
