"""One record of a file after the other: matched, laid over what is listed, through the gate, and compared with it."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice
from typing import Any, Protocol

from sqlalchemy import Connection

from catalog.domain.chain import ZERO
from catalog.domain.delta import RecordDelta, difference
from catalog.domain.documents import identity_from
from catalog.domain.findings import Finding as RecordFinding
from catalog.domain.plausibility import check_catalogue
from catalog.domain.record import Identity, Record
from catalog.intake.applying import located
from catalog.intake.finding import Finding, Severity
from catalog.intake.given import Given
from catalog.services.compiling import record_of
from catalog.services.house import House
from catalog.services.importing_brought import Brought
from catalog.services.importing_listed import Listed
from catalog.services.importing_matching import Match, Matcher
from catalog.services.importing_sides import keep_disputed, sides_of
from catalog.services.importing_sources import Sources
from catalog.services.importing_views import CheckedRecord, Outcome, Packed
from catalog.services.passed import bytes_and_hash
from catalog.store import read as store
from schemas.findings import Invalid

Content = dict[str, Any]


class Options(Protocol):
    """What whoever brings a file says beside it."""

    @property
    def name(self) -> str: ...
    @property
    def disputed(self) -> frozenset[str]: ...
    @property
    def reason(self) -> str: ...


@dataclass(eq=False)
class Checking:
    """Goes through the records of one file inside one view of the store."""

    house: House
    conn: Connection
    listed: Listed
    sources: Sources
    options: Options
    codes: frozenset[str] = frozenset()
    _matcher: Matcher = field(init=False)
    _changed: dict[str, tuple[Identity, Given]] = field(default_factory=dict)
    _withdrawn: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self._matcher = Matcher(self.house, self.listed, self.codes)

    def check(self, one: Brought) -> tuple[CheckedRecord, tuple[Finding, ...]]:
        """What the file would do with a record, and everything to say about it, what blocks among it."""
        place = _place(one)
        given = one.given
        if given.code and self._is_unchanged(one):
            match = self._matcher.by_code(given.code, place)
            made = CheckedRecord(place, given.code, given.name, Outcome.UNCHANGED, match.how)
            return self._ended(made, one, [located(finding, given) for finding in match.findings])
        return self._compared(one, place)

    def without_twice(self, records: Iterable[CheckedRecord]) -> list[CheckedRecord]:
        """The records, those left out that came more than once: nobody has said which one holds."""
        twice = self._matcher.twice
        for code in twice:
            self._changed.pop(code, None)
            self._withdrawn.discard(code)
        return [_left_out(one) if one.code in twice else one for one in records]

    def links(self) -> Iterator[Finding]:
        """What is wrong between records, once all of the file were gone through."""
        if not self._changed and not self._withdrawn:
            return
        who = {code: one.identity for code, one in self.listed.records.items() if code not in self._withdrawn}
        who |= {code: identity for code, (identity, _) in self._changed.items()}
        after = {code: Record(replace(identity, src=())) for code, identity in who.items()}
        for code, finding in check_catalogue(after, self.sources.known):
            if code in self._changed:
                # A review sees all records of the update together; one alone would not do.
                yield located(replace(finding, severity=Severity.LOOK), self._changed[code][1])

    def _is_unchanged(self, one: Brought) -> bool:
        """Whether its rows, or a whole document's bytes, are what is listed: nothing more needs to be looked at."""
        listed = self.listed.records.get(one.given.code)
        return one.as_listed or (
            bool(one.text) and listed is not None and hashlib.sha256(one.text).hexdigest() == listed.content_hash
        )

    def _compared(self, one: Brought, place: str) -> tuple[CheckedRecord, tuple[Finding, ...]]:
        given = one.given
        match, document, found = self._matched(one, place)
        title = _title(document) or listed_title(self.listed, match.code) or given.name
        listed = self.listed.records.get(match.code)
        made = CheckedRecord(place, match.code or given.code, title, Outcome.LEFT_OUT, match.how)
        if given.action:
            return self._withdrawing(made, one, found)
        unmatched = any(finding.severity is Severity.BLOCKS for finding in match.findings)
        if document is None or unmatched:
            return self._ended(made, one, found)
        written, digest = bytes_and_hash(document)
        if listed is not None and digest == listed.content_hash:
            return self._ended(replace(made, outcome=Outcome.UNCHANGED), one, found)
        old = None if listed is None else record_of(self._base(match.code) or {})
        new, about = self._gated(document, digest)
        found += [located(finding, given) for finding in about]
        if new is None:
            return self._ended(made, one, found)
        delta = difference(old, new)
        kept, sided = self._sided(document, new, delta, made.code)
        if kept is not None:
            new, written = kept
            delta = difference(old, new)
        found += [located(finding, given) for finding in (*sided, *self._cited(new))]
        changed = replace(
            made,
            outcome=Outcome.ADDED if listed is None else Outcome.CHANGED,
            base=ZERO if listed is None else listed.revision,
            document=Packed(written),
            reason=given.reason or self.options.reason or f"Guide update {self.options.name}.",
            cells=Packed(json.dumps(_cells(given, delta)).encode()),
            changes=len(delta.facts) + len(delta.plain),
        )
        self._changed[changed.code or place] = new.identity, _who_says(given)
        return self._ended(changed, one, found)

    def _matched(self, one: Brought, place: str) -> tuple[Match, Content | None, list[Finding]]:
        """Which record it is; its document as it would be; what was wrong in both."""
        given = one.given
        if given.code:
            match = self._matcher.by_code(given.code, place)
            base = self._base(match.code) if match.code in self.listed.records else None
            if base is None and one.told is not None and one.told.partial:
                cure = "Bring the whole record, or check the code."
                wrong = RecordFinding("", f"changes of {given.code}", "a record that is listed", cure)
                return match, None, [located(wrong, given)]
            document, found = ({}, ()) if given.action else one.over(base)
            identity = _identity(document)
            more = self._matcher.new_with_code(identity, place) if base is None and identity else ()
            told = [located(finding, given) for finding in (*match.findings, *more)]
            return match, document, [*found, *told]
        document, found = one.over(None)
        identity = _identity(document)
        if identity is None:
            return Match("", ""), document, list(found)
        match = self._matcher.by_identity(identity, place)
        told = [located(finding, given) for finding in match.findings]
        if match.code in self.listed.records:
            document, found = one.over(self._base(match.code))
        return match, document, [*found, *told]

    def _withdrawing(
        self, made: CheckedRecord, one: Brought, found: list[Finding]
    ) -> tuple[CheckedRecord, tuple[Finding, ...]]:
        listed = self.listed.records.get(made.code)
        reason = one.given.reason.strip()
        if made.code in self.listed.withdrawn:
            return self._ended(replace(made, outcome=Outcome.UNCHANGED), one, [])
        if listed is None:
            wrong = RecordFinding("action", one.given.action, "a record that is listed", "Check the code.")
            found.append(located(wrong, one.given))
        elif not reason:
            wrong = RecordFinding("reason", "nothing", "why it must not be used: crews are told", "Write the reason.")
            found.append(located(wrong, one.given))
        else:
            title = listed.identity.title
            made = replace(made, outcome=Outcome.WITHDRAWN, base=listed.revision, reason=reason, title=title)
            self._withdrawn.add(made.code)
        return self._ended(made, one, found)

    def _sided(
        self, document: Content, new: Record, delta: RecordDelta, code: str
    ) -> tuple[tuple[Record, bytes] | None, list[RecordFinding]]:
        """Both sides of what contradicts what is listed; record and bytes where something is kept as disputed."""
        found = []
        made: Content | None = None
        for sides in sides_of(delta, self.sources.known):
            if self.options.disputed & {f"{code}:{sides.path}", "all"}:
                made = made or _copied(document)
                found.append(keep_disputed(made, sides))
            else:
                found.append(sides.finding)
        if made is None:
            return None, found
        written, digest = bytes_and_hash(made)
        again, about = self._gated(made, digest)
        found += [finding for finding in about if finding.severity is Severity.BLOCKS]
        return (again or new, written), found

    def _gated(self, document: Content, digest: str) -> tuple[Record | None, tuple[RecordFinding, ...]]:
        try:
            return self.house.passed.check(document, digest)
        except Invalid as invalid:
            return None, invalid.findings

    def _cited(self, record: Record) -> Iterator[RecordFinding]:
        """Sources and pages it cites that are not there."""
        alone = replace(record.identity, twin_of=(), replaces=(), replaced_by=())
        for _, finding in check_catalogue({"": replace(record, identity=alone)}, self.sources.known):
            yield finding

    def _base(self, code: str) -> Content | None:
        stored = store.record_at(self.conn, code, self.listed.number)
        return None if stored is None else stored.document

    def _ended(
        self, made: CheckedRecord, one: Brought, found: Iterable[Finding]
    ) -> tuple[CheckedRecord, tuple[Finding, ...]]:
        about = tuple(replace(finding, record=made.name) for finding in (*one.findings, *found))
        if any(finding.severity is Severity.BLOCKS for finding in about):
            self._changed.pop(made.code or made.key, None)
            self._withdrawn.discard(made.code)
            made = _left_out(made)
        return made, about


def _left_out(made: CheckedRecord) -> CheckedRecord:
    return CheckedRecord(made.key, made.code, made.title, Outcome.LEFT_OUT, made.matched)


def _identity(document: Mapping[str, Any] | None) -> Identity | None:
    """Who it is, as far as that can be told of a document that nobody has checked."""
    open_ones = {"category": "", "steering": (), "markets": (), "src": ()}
    try:
        found = identity_from({**open_ones, **(document or {})["identity"]})
    except (KeyError, TypeError, AttributeError, ValueError):
        return None
    texts = (found.make, found.model, found.variant or "", found.propulsion, *found.vins)
    years = (found.years.since, found.years.until or 0)
    sound = all(isinstance(text, str) for text in texts) and all(isinstance(year, int) for year in years)
    return found if sound else None


def _title(document: Mapping[str, Any] | None) -> str:
    who = (document or {}).get("identity")
    parts = [who.get(key) for key in ("make", "model", "variant")] if isinstance(who, dict) else []
    return " ".join(part for part in parts if isinstance(part, str))


def listed_title(listed: Listed, code: str) -> str:
    """What a listed record is called; "" where there is none."""
    return listed.records[code].identity.title if code in listed.records else ""


def _place(one: Brought) -> str:
    """Where a record first stands, as a person looks it up."""
    where = one.where
    if where.sheet:
        return f"{where.sheet}, row {where.row}"
    return f"{where.file}, line {where.row}"


def _who_says(given: Given) -> Given:
    """Of what a file says, where it says who the vehicle is: more is not held of ten thousand records."""
    first = dict(islice(given.cells.items(), 1))
    who = {path: where for path, where in given.cells.items() if path.startswith("identity")}
    return Given(given.code, given.name, cells=first | who)


def _cells(given: Given, delta: RecordDelta) -> dict[str, str]:
    """The cell each change came from."""
    made = {}
    for path in (*(change.path for change in delta.facts), *(change.path for change in delta.plain)):
        where = given.place_of(path)
        if where is not None:
            made[path] = f"{where.sheet or where.file}!{where.row}:{where.column}"
    return made


def _copied(document: Content) -> Content:
    made: Content = json.loads(json.dumps(document))
    return made
