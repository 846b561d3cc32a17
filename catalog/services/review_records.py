"""The shapes of a review: what a record of a guide update is judged by, and how it stands then."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from catalog.domain.facts import Fact
from catalog.services.change_sets import FieldChange
from catalog.store.tables_updates import ACCEPT, REJECT
from catalog.store.updates import StoredChange, StoredDecision

Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Side:
    """A revision and what it says. hash: ZERO and document None: there is none. listed: whether an edition lists it
    now, or did when it was the base."""

    hash: str
    document: Document | None
    listed: bool


@dataclass(frozen=True, slots=True)
class Matter:
    """All that how a record stands is worked out from. base: what the update was made against; now: what is listed, or
    was last; bases: documents of revisions it was brought up to, by hash. author: who brought the update in."""

    change: StoredChange
    author: str
    decisions: Sequence[StoredDecision]
    base: Side
    now: Side
    bases: Mapping[str, Document]


@dataclass(frozen=True, slots=True)
class ReviewChange:
    """One change. of: names exactly this change. hands: who brought or edited it, and so cannot accept it where it is
    critical. before: where somebody else changed the same field since, what it was made against."""

    change: FieldChange
    of: str
    hands: frozenset[str]
    cell: str
    decision: StoredDecision | None
    comments: tuple[StoredDecision, ...]
    before: Fact | str | None = None

    @property
    def state(self) -> str:
        """accepted, rejected or open."""
        return {ACCEPT: "accepted", REJECT: "rejected"}.get(self.decision.kind if self.decision else "", "open")

    @property
    def accepted(self) -> bool:
        return self.state == "accepted"


@dataclass(frozen=True, slots=True)
class ReviewRecord:
    """A record of an update. base: the revision hash its changes stand on. stale: something else is listed by now.
    gone: it is set to do not use by now. of: names all of it as it is. document: with every change; None: do not use.
    accepted: with the accepted ones only; None where nothing is, or it is not to be used. wanted: somebody accepted
    something of it, and did not take that back, whether or not it counts still."""

    code: str
    title: str
    action: str
    reason: str
    base: str
    now: str
    stale: bool
    gone: bool
    of: str
    changes: tuple[ReviewChange, ...]
    document: Document | None
    accepted: Document | None
    wanted: bool
    comments: tuple[StoredDecision, ...]

    @property
    def open(self) -> int:
        return sum(change.state == "open" for change in self.changes)

    @property
    def state(self) -> str:
        """open, accepted, rejected, or in part accepted."""
        states = {change.state for change in self.changes}
        if not states:
            return "nothing left"
        if "open" in states:
            return "open"
        return states.pop() if len(states) == 1 else "accepted in part"
