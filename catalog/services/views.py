"""What the services return: plain, frozen, without HTTP or terminal words.

Probabilities of an answer add up: sum(candidates) + others + unlisted = 1 within 1e-9.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any

from catalog.domain.delta import RecordDelta
from catalog.domain.record import Record
from catalog.domain.sources import Source
from catalog.resolve.answering.candidates import Candidate
from catalog.resolve.answering.chances import Chance
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.cue import Span

if TYPE_CHECKING:
    from catalog.resolve.answering.group_views import GroupsView
    from catalog.resolve.answering.question_views import QuestionsView
    from catalog.services.doubts import DoubtView
    from catalog.services.fact_views import SharedFact


@dataclass(frozen=True, slots=True)
class EditionView:
    """A published edition. hash: lower-case hex. published_at: UTC."""

    number: int
    hash: str
    published_at: datetime
    author: str
    reason: str
    records: int


@dataclass(frozen=True, slots=True)
class ReadView:
    """What `read_description` returns. text: with what is masked blanked, so that spans hold.

    struck: cues left out because somebody said so. scene: value -> "yes", "no" or "perhaps".
    """

    edition: EditionView
    text: str
    cues: tuple[CueView, ...]
    struck: tuple[CueView, ...]
    unread: tuple[Span, ...]
    masked: tuple[Span, ...]
    scene: Mapping[str, str]
    driving_side: str
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """What `resolve_description` returns. message: said when nothing could be understood.

    text: with what is masked blanked. struck, scene: as in `ReadView`. facts, groups: only where asked for,
    and where anything said can rank. questions: only where asked for. excluded: records said not to be it, without
    a title where this edition does not hold them. calibration_state: expert, simulated or field; calibration says the
    same with why.
    """

    edition: EditionView
    text: str
    cues: tuple[CueView, ...]
    unread: tuple[Span, ...]
    candidates: tuple[Candidate, ...]
    others: float
    others_count: int
    unlisted: Chance
    calibration: str
    message: str
    driving_side: str
    warnings: tuple[str, ...] = ()
    facts: "tuple[SharedFact, ...]" = ()
    groups: "GroupsView | None" = None
    struck: tuple[CueView, ...] = ()
    masked: tuple[Span, ...] = ()
    scene: Mapping[str, str] = field(default_factory=dict)
    questions: "QuestionsView | None" = None
    excluded: "tuple[RecordSummary, ...]" = ()
    calibration_state: str = "expert"


@dataclass(frozen=True, slots=True)
class RecordSummary:
    """A record in a list. withdrawn: the reason it must not be used, or ""."""

    code: str
    title: str
    subtitle: str
    withdrawn: str = ""


@dataclass(frozen=True, slots=True)
class RecordView:
    """A record as it stood in one edition. withdrawn: the reason it must not be used, or "". doubts: that stand."""

    code: str
    edition: EditionView
    latest: int
    seq: int
    hash: str
    record: Record
    document: Mapping[str, Any]
    sources: Mapping[str, Source]
    withdrawn: str = ""
    doubts: "tuple[DoubtView, ...]" = ()


@dataclass(frozen=True, slots=True)
class RevisionView:
    """One revision of a record. editions: half-open ranges of edition numbers it was listed in."""

    code: str
    seq: int
    hash: str
    prev: str
    author: str
    time: datetime
    reason: str
    editions: tuple[tuple[int, int | None], ...]
    changes: RecordDelta


@dataclass(frozen=True, slots=True)
class MemberChange:
    """What happened to one member between two editions. kind: record, source, vocabulary.

    action: added, changed, withdrawn. reason: as given at publication or withdrawal.
    """

    kind: str
    key: str
    title: str
    action: str
    reason: str
    delta: RecordDelta | None = None


@dataclass(frozen=True, slots=True)
class Hit:
    """One text hit. snippet: pieces (text, is_match). where: record code or source key and page.

    replaced_by: the newer issue of the same guide, which holds instead; "" when there is none.
    """

    kind: str
    key: str
    title: str
    where: str
    page: int | None
    snippet: tuple[tuple[str, bool], ...]
    score: float
    replaced_by: str = ""


@dataclass(frozen=True, slots=True)
class Found:
    """What `find_text` returns; total may exceed the hits shown."""

    edition: EditionView
    query: str
    total: int
    hits: tuple[Hit, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """What `verify_catalogue` found wrong: which revision or edition, and how it differs."""

    kind: str
    key: str
    seq: int
    problem: str


@dataclass(frozen=True, slots=True)
class Verified:
    """What `verify_catalogue` checked and found."""

    revisions: int
    editions: int
    head: str
    faults: tuple[Fault, ...]
