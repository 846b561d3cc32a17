"""What the services of briefs return: plain, frozen, without HTTP or terminal words."""

from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from catalog.plan.brief.model import Brief, Changed
from catalog.services.brief_kept import Composed
from catalog.services.step_views import FieldView
from catalog.services.steps import known_fields

UNSTORED = "UNSTORED: kept nowhere, no link, cannot be recalled. Note by hand who was told what."


@dataclass(frozen=True, slots=True)
class SentView:
    """That a brief was sent. form: radio, full, sheet, link or json. to: whom, as typed; "" where not said."""

    form: str
    to: str
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class ReadBackView:
    """That a brief was read back. who: read it back. words: what was read back, "" where not noted."""

    who: str
    words: str
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class RecallView:
    """That a brief does not hold any more."""

    why: str
    instead: str
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class NewerFact:
    """A fact of a brief that reads otherwise in a newer edition. doubted: since when it is doubted, None where not."""

    code: str
    path: str
    label: str
    was: str
    now: str
    doubted: datetime | None = None


class Gone(NamedTuple):
    """A vehicle that is not to be used any more."""

    code: str
    reason: str


@dataclass(frozen=True, slots=True)
class NewerView:
    """What a newer edition changes in a brief. gone: vehicles not to be used any more."""

    edition: int
    published_at: datetime
    facts: tuple[NewerFact, ...]
    gone: tuple[Gone, ...]

    @property
    def concerns(self) -> bool:
        """Whether anything in the brief reads otherwise now."""
        return bool(self.facts or self.gone)


@dataclass(frozen=True, slots=True)
class BriefShort:
    """A brief in a list."""

    id: str
    incident: str
    letter: str
    number: int
    kind: str
    title: str
    edition: int
    composed_at: datetime
    composed_by: str
    corrects: str
    sent: int
    read_back: int
    opened: int
    recalled: bool
    corrected: bool


@dataclass(frozen=True, slots=True)
class FollowerView:
    """What was composed to follow a brief. changes: of a correction, what it puts right."""

    id: str
    kind: str
    composed_at: datetime
    composed_by: str
    changes: tuple[Changed, ...]


@dataclass(frozen=True, slots=True)
class LinkView:
    """A link that was made just now. path: address below the server's own."""

    path: str
    expires_at: datetime


@dataclass(frozen=True, slots=True)
class ToldView:
    """What whoever holds a brief is told of a fact it rests on."""

    label: str
    words: str
    said_by: str
    time: datetime


@dataclass(frozen=True, slots=True)
class BriefView:
    """A brief with what became of it. id, incident: "" where it is not stored; mark: then says so. corrects: id of
    what it puts right. link: address below the server's own, only for who has just made it; expires_at: of that one, or
    of the one that was followed. openings: minutes."""

    composed: Composed
    kind: str
    composed_at: datetime
    composed_by: str
    letter: str
    id: str = ""
    incident: str = ""
    number: int = 0
    corrects: str = ""
    mark: str = ""
    link: str = ""
    expires_at: datetime | None = None
    again: bool = False
    recalled: RecallView | None = None
    newer: NewerView | None = None
    sent: tuple[SentView, ...] = ()
    read_back: tuple[ReadBackView, ...] = ()
    openings: tuple[datetime, ...] = ()
    told: tuple[ToldView, ...] = ()
    followed_by: tuple[FollowerView, ...] = ()

    @property
    def stored(self) -> bool:
        return bool(self.id)

    @property
    def brief(self) -> Brief:
        return self.composed.brief

    @property
    def made_link(self) -> LinkView | None:
        return LinkView(self.link, self.expires_at) if self.link and self.expires_at else None

    @property
    def scene(self) -> tuple[FieldView, ...]:
        return known_fields(self.composed.scene)

    @property
    def title(self) -> str:
        """The vehicle, or that there are several."""
        return title_of(self.composed)


def title_of(composed: Composed) -> str:
    """ "Brantok Ferrow", "Brantok Ferrow or 2 more", "vehicle not known"."""
    first, *more = [one.title for one in composed.vehicles] or ["vehicle not known"]
    return f"{first} or {len(more)} more" if more else first


@dataclass(frozen=True, slots=True)
class IncidentView:
    """An incident and its briefs, by vehicle."""

    id: str
    opened_at: datetime
    opened_by: str
    briefs: tuple[BriefShort, ...]


@dataclass(frozen=True, slots=True)
class DayView:
    """The briefs of a day. day: "2026-03-02"."""

    day: str
    briefs: tuple[BriefShort, ...]
