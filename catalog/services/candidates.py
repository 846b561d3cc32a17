"""What would be published: everything accepted of some updates, checked again for who accepted it."""

import json
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection

from catalog.domain.canonical import content_hash
from catalog.domain.chain import ZERO
from catalog.domain.documents import references
from catalog.domain.sources import KEY_PATTERN, parse_reference
from catalog.errors import BadInput, Conflict, Forbidden
from catalog.services.remembered import Remembered
from catalog.services.review_matters import Standing, decisions_by_code, known_update, standing
from catalog.services.review_records import ReviewRecord
from catalog.services.review_rules import check_current, check_two_persons
from catalog.store import read as store
from catalog.store.updates import (
    OPEN,
    StoredDecision,
    StoredUpdate,
    change_lines,
    changes_of,
    documents_of,
    next_seq,
    standing_of,
    update_sources,
)

Document = Mapping[str, Any]

MOST_KEPT = 8  # outlines


@dataclass(frozen=True, slots=True)
class Taken:
    """A record of an update of which something is published. rest: changes left open by it."""

    number: int
    code: str
    rest: int


@dataclass(frozen=True, slots=True)
class Outline:
    """A candidate without its documents. digest: names exactly what would be published. records, withdrawn: how many.
    left: see `Candidate`."""

    numbers: tuple[int, ...]
    digest: str
    records: int
    withdrawn: int
    left: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Candidate:
    """See `catalog.store.publication.Publication`. numbers: of the updates. left: records of which nothing is taken and
    something is open still, by update. reasons: by code. hashes: of the records' content. unread: codes, by update, of
    records whose documents are left empty, since an outline alone is made."""

    numbers: tuple[int, ...]
    records: dict[str, Document] = field(default_factory=dict)
    withdrawn: dict[str, str] = field(default_factory=dict)
    reasons: dict[str, str] = field(default_factory=dict)
    bases: dict[str, str] = field(default_factory=dict)
    sources: dict[str, Document] = field(default_factory=dict)
    hashes: dict[str, str] = field(default_factory=dict)
    taken: list[Taken] = field(default_factory=list)
    left: dict[int, int] = field(default_factory=dict)
    unread: dict[int, set[str]] = field(default_factory=dict)

    @property
    def digest(self) -> str:
        """Names exactly what would be published."""
        sources = {key: content_hash(dict(document)) for key, document in self.sources.items()}
        return content_hash([list(self.numbers), self.hashes, self.withdrawn, self.reasons, self.bases, sources])

    @property
    def empty(self) -> bool:
        """Whether there is nothing to publish."""
        return not self.records and not self.withdrawn and not self.sources

    @property
    def outline(self) -> Outline:
        return Outline(self.numbers, self.digest, len(self.records), len(self.withdrawn), dict(self.left))


def outline_of(conn: Connection, numbers: Sequence[int]) -> Outline:
    """What is accepted of these updates, as `candidate_of` finds it; raises the same.

    The last ones are kept: what is accepted changes only by a decision or a publication.
    """
    named = tuple(sorted(set(numbers)))
    newest = store.latest(conn)
    told = tuple((known_update(conn, number), next_seq(conn, number)) for number in named)
    key = (str(conn.engine.url), newest.hash if newest else "", told)
    found = _outlines.of(key, lambda: _outline(conn, named))
    if found is None:
        raise _nothing()
    return found


_outlines: Remembered[Outline | None] = Remembered(MOST_KEPT)


def _outline(conn: Connection, numbers: Sequence[int]) -> Outline | None:
    """None: nothing is accepted."""
    made = _gathered(conn, numbers, read=False)
    return None if made.empty else made.outline


def candidate_of(conn: Connection, numbers: Sequence[int]) -> Candidate:
    """What is accepted of these updates.

    Raises NotFound, BadInput (nothing is accepted), Conflict (an update is closed, an accepted record has moved on, two
    updates change one record), Forbidden (a safety-critical change was accepted by whoever brought it in).
    """
    made = _gathered(conn, numbers, read=True)
    if made.empty:
        raise _nothing()
    return made


def _nothing() -> BadInput:
    return BadInput("Nothing of it is accepted, so there is nothing to publish.", cure="Accept changes first.")


def _gathered(conn: Connection, numbers: Sequence[int], *, read: bool) -> Candidate:
    """read: with the documents of what was accepted as it came; an outline needs their hashes alone."""
    made = Candidate(tuple(sorted(set(numbers))))
    for number in made.numbers:
        _gather(conn, number, made, read=read)
    return made


def _gather(conn: Connection, number: int, made: Candidate, *, read: bool) -> None:
    told = known_update(conn, number)
    if standing_of(conn, number)[0] != OPEN:
        raise Conflict(f"Guide update {number} is closed.", cure="Look at how it stands.")
    decided = decisions_by_code(conn, number)
    whole: list[Standing] = []
    for line in change_lines(conn, number):
        found = standing(conn, told, line, decided.get(line.code, ()))
        if found.record is not None:
            _take_record(told, found.record, made)
        elif found.state == "accepted":
            whole.append(found)
        elif found.state == "open":
            made.left[number] = made.left.get(number, 0) + 1
    if read:
        _take_whole(conn, told, whole, made)
    else:
        _name_whole(told, whole, made)
    _take_sources(conn, told, made)


def _take_whole(conn: Connection, told: StoredUpdate, whole: Sequence[Standing], made: Candidate) -> None:
    """Records accepted at once as they came."""
    by_code = {one.line.code: one for one in whole}
    for change in changes_of(conn, told.number) if by_code else ():
        found = by_code.get(change.code)
        if found is None or found.decided is None:
            continue
        _check_hands(told, found)
        if change.document is not None:
            made.hashes[change.code] = change.content_hash
        _take(made, Taken(told.number, change.code, 0), change.base, change.document, change.reason)


def _check_hands(told: StoredUpdate, found: Standing) -> None:
    """Raises Forbidden where whoever brought a safety-critical record in accepted it too."""
    if found.line.critical and found.decided is not None and found.decided.author == told.author:
        raise _two_persons(f"{told.author} brought in {found.line.code} and accepted it too.")


def _name_whole(told: StoredUpdate, whole: Sequence[Standing], made: Candidate) -> None:
    """The same without their documents."""
    for found in whole:
        line = found.line
        _check_hands(told, found)
        if not line.withdrawn:
            made.hashes[line.code] = line.content_hash
            made.unread.setdefault(told.number, set()).add(line.code)
        _take(made, Taken(told.number, line.code, 0), line.base, None if line.withdrawn else {}, line.reason)


def _take_record(told: StoredUpdate, record: ReviewRecord, made: Candidate) -> None:
    accepted = tuple(change for change in record.changes if change.accepted)
    if not accepted and not (record.stale and record.wanted):
        made.left[told.number] = made.left.get(told.number, 0) + bool(record.open)
        return
    check_current(record)
    for change in accepted:
        decision: StoredDecision | None = change.decision
        assert decision is not None
        why = check_two_persons(decision.author, True, (change,))
        if why:
            raise _two_persons(why)
    _take(made, Taken(told.number, record.code, record.open), record.base, record.accepted, record.reason)


def _take(made: Candidate, taken: Taken, base: str, document: Document | None, reason: str) -> None:
    code = taken.code
    if code in made.records or code in made.withdrawn:
        raise Conflict(f"Two of these updates change {code}.", cure="Publish one, then bring the other up to it.")
    made.taken.append(taken)
    if base != ZERO:
        made.bases[code] = base
    if document is None:
        made.withdrawn[code] = reason
    else:
        made.records[code], made.reasons[code] = document, reason
        if code not in made.hashes:
            made.hashes[code] = content_hash(dict(document))


def _take_sources(conn: Connection, told: StoredUpdate, made: Candidate) -> None:
    """The sources that are cited by what is taken, and those that no record of the update cites at all."""
    given = update_sources(conn, told.number)
    if not given:
        return
    cited = _cited_kept.of((str(conn.engine.url), told), lambda: _cited_in(conn, told.number, given.keys()))
    wanted: set[str] = set()
    for document in made.records.values():
        if len(wanted) == len(given):
            break
        wanted |= given.keys() & _cited(document)
    for number, codes in made.unread.items():
        wanted |= _cited_in(conn, number, given.keys() - wanted, codes)
    made.sources.update({key: given[key] for key in given if key in wanted or key not in cited})


# Of updates, whose records never change.
_cited_kept: Remembered[frozenset[str]] = Remembered(MOST_KEPT)


def _cited_in(
    conn: Connection, number: int, keys: Iterable[str], codes: Collection[str] | None = None
) -> frozenset[str]:
    """Which of some sources a record of an update cites, any of it or one of some. Read is only what holds the text of
    one not found yet."""
    left, found = set(keys), set[str]()
    for code, text in documents_of(conn, number) if left else ():
        if not left:
            break
        if codes is not None and code not in codes:
            continue
        if not left.isdisjoint(match.decode() for match in _KEY_TEXT.findall(text)):
            found |= left & _cited(json.loads(text))
            left -= found
    return frozenset(found)


# As canonical JSON writes a reference.
_KEY_TEXT = re.compile(rf'"({KEY_PATTERN.pattern})[":]'.encode())


def _cited(document: Document) -> set[str]:
    return {parse_reference(text).key for text in references(document)}


def _two_persons(why: str) -> Forbidden:
    return Forbidden(why, cure="Another person, an approver, accepts it again.")
