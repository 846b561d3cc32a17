"""The checks before a publication: shown, stored, and some of them in the way.

Every check is of the catalogue as it would be, beside how it is: schema and plausibility of every record, the chains,
what facts rest on, and the search-quality run, which is the watch list and simulated descriptions of the edition's own
vehicles.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from math import sqrt
from typing import Any

from catalog.compiled import Compiled
from catalog.compiled.program import program
from catalog.domain.canonical import content_hash
from catalog.domain.findings import Severity
from catalog.resolve.calibration.labels import COUNT, simulated_labels
from catalog.resolve.calibration.measure import measure
from catalog.resolve.field import Field
from catalog.resolve.rows import Entry, Row, row_of, unpacked
from catalog.resolve.tables import tables_of, with_popularity
from catalog.services.candidates import Candidate
from catalog.services.compiling import record_of
from catalog.services.coverage import Coverage, cited_by, coverage_of
from catalog.services.house import House, field_of
from catalog.services.outcomes import unpacked_cues
from catalog.services.passed import hash_of
from catalog.services.watch_list import rank_of
from catalog.store import read as store
from catalog.store.engine import read
from catalog.store.read import members
from catalog.store.verify import verify
from catalog.store.watch_list import StoredWatch, watched
from schemas.findings import Invalid

PASSED, LOOK, BLOCKS = "passed", "needs a look", "blocks"

SCHEMA, CHAINS, SOURCES, WATCH, SIMULATED = "schema", "chains", "sources", "watch list", "simulated"
TITLES = {
    SCHEMA: "Schema and plausibility",
    CHAINS: "Integrity check",
    SOURCES: "What facts rest on",
    WATCH: "Watch list",
    SIMULATED: "Simulated descriptions",
}
# What a person may publish against, with a reason: only the watch list, because a record may rightly be found less.
MAY_BE_OVERRIDDEN = frozenset({WATCH})
_MOST_TOLD = 50
DESCRIPTIONS = COUNT


@dataclass(frozen=True, slots=True)
class Gate:
    """One check. outcome: passed, needs a look or blocks. words: in one line. details: what exactly, the first 50."""

    key: str
    outcome: str
    words: str
    details: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        return TITLES[self.key]


@dataclass(frozen=True, slots=True)
class Gates:
    """program: what made them. watching: names the watch list they were made with."""

    gates: tuple[Gate, ...]
    program: str
    watching: str
    overrides: Mapping[str, str] = field(default_factory=dict)

    @property
    def blocking(self) -> tuple[Gate, ...]:
        """What is in the way of publishing."""
        return tuple(gate for gate in self.gates if gate.outcome == BLOCKS and gate.key not in self.overrides)

    @property
    def content(self) -> dict[str, Any]:
        """As it is stored."""
        gates = [{**asdict(gate), "details": list(gate.details)} for gate in self.gates]
        return {
            "gates": gates,
            "program": self.program,
            "watching": self.watching,
            "overrides": dict(self.overrides),
        }


def gates_from(content: Mapping[str, Any]) -> Gates:
    """Stored checks."""
    gates = tuple(Gate(**{**gate, "details": tuple(gate["details"])}) for gate in content["gates"])
    return Gates(gates, content["program"], content["watching"], content["overrides"])


def watching(rows: Sequence[StoredWatch]) -> str:
    """Names a watch list."""
    return content_hash([[row.number, row.code, row.rank] for row in rows])


def run_gates(house: House, compiled: Compiled, candidate: Candidate) -> Gates:
    """All checks of what would be published on top of the compiled edition. Takes its time; nothing is locked."""
    with read(house.engine) as conn:
        rows = tuple(watched(conn))
        report = verify(conn)
        listed = {one.key: one.document for one in members(conn, compiled.number, "source")}
        documents, hashes = {}, {}
        for one in members(conn, compiled.number, "record"):
            documents[one.key] = one.document
            hashes[one.key] = one.content_hash  # which reading the document has just proved
        newest = store.latest(conn)
    after = {code: one for code, one in documents.items() if code not in candidate.withdrawn}
    after |= {code: dict(one) for code, one in candidate.records.items()}
    hashes |= {code: hash_of(after[code]) for code in candidate.records}
    faults = [f"{fault.kind} {fault.key}: {fault.problem}" for fault in report.faults]
    words = f"{report.revisions} revisions, {report.editions} editions: every chain holds"
    if faults:
        words = f"{len(faults)} faults: do not publish on top of them"
    assert newest is not None
    replaced = documents.keys() & {*candidate.records, *candidate.withdrawn}
    before_cited = cited_by(documents.values())
    after_cited = before_cited - cited_by(documents[code] for code in replaced) + cited_by(candidate.records.values())
    before_field = field_of(house, compiled)
    after_rows = _rows(compiled, candidate)
    after_field = _field(house, before_field, after_rows)
    found = (
        _schema(house, after, hashes),
        Gate(CHAINS, BLOCKS if faults else PASSED, words, tuple(faults[:_MOST_TOLD])),
        _sources(coverage_of(before_cited, listed), coverage_of(after_cited, {**listed, **candidate.sources})),
        _watch_list(rows, before_field, after_field),
        _simulated(compiled, before_field, after_rows, after_field),
    )
    return Gates(found, program(), watching(rows))


def _rows(compiled: Compiled, candidate: Candidate) -> dict[str, Row]:
    """What the search would be made of: rows of the compiled edition, derived anew where a record changes."""
    made = {
        code: unpacked(compiled.row_bytes(code))
        for code in compiled.codes
        if code not in candidate.withdrawn and code not in candidate.records
    }
    return made | {code: row_of(Entry(code, record_of(one))) for code, one in candidate.records.items()}


def _field(house: House, before: Field, rows: Mapping[str, Row]) -> Field:
    tables = tables_of(rows.values())
    shares = house.popularity.shares
    return Field(with_popularity(tables, shares) if shares else tables, before.parameters, before.unlisted_rate)


def _schema(house: House, documents: Mapping[str, Any], hashes: Mapping[str, str]) -> Gate:
    blocks: list[str] = []
    looks = 0
    for code, document in documents.items():
        try:
            looks += house.passed.needs_look(document, hashes[code])
        except Invalid as error:
            blocks += [f"{code}: {finding}" for finding in error.findings if finding.severity is Severity.BLOCKS]
    if blocks:
        return Gate(SCHEMA, BLOCKS, f"{len(blocks)} things do not pass", tuple(blocks[:_MOST_TOLD]))
    told = f"; {looks} with something that needs a look" if looks else ""
    return Gate(SCHEMA, PASSED, f"{len(documents)} records pass{told}")


def _sources(before: Coverage, after: Coverage) -> Gate:
    lines = [
        f"facts: {before.facts} before, {after.facts} after",
        f"without a source: {before.unsourced} before, {after.unsourced} after",
        f"without a page: {before.pageless} before, {after.pageless} after",
        f"from nothing a maker published: {before.other} before, {after.other} after",
        f"from an issue older than the newest listed: {before.old} before, {after.old} after",
    ]
    worse = after.unsourced > before.unsourced
    words = f"{after.unsourced} of {after.facts} facts without a source (before: {before.unsourced})"
    return Gate(SOURCES, LOOK if worse else PASSED, words, tuple(lines))


def _watch_list(rows: Sequence[StoredWatch], before: Field, after: Field) -> Gate:
    if not rows:
        return Gate(WATCH, LOOK, "nothing is watched", ("Fix descriptions that must go on finding their record.",))
    lost, missed, told = 0, 0, []
    for row in rows:
        cues = unpacked_cues(row.cues)
        was, is_ = (rank_of(cues, row.code, field) for field in (before, after))
        found_before, found = (place is not None and place <= row.rank for place in (was, is_))
        lost += found_before and not found
        missed += not found_before and not found
        if not found:
            said = f"{_place(was)} before, {_place(is_)} after; must be among the first {row.rank}"
            told.append(f"{row.number} {row.name}: {row.code} {said}")
    found_words = f"{len(rows) - lost - missed} of {len(rows)} watched descriptions find their record"
    if lost:
        return Gate(WATCH, BLOCKS, f"{lost} of {len(rows)} watched descriptions would find it no more", tuple(told))
    return Gate(WATCH, LOOK if missed else PASSED, found_words, tuple(told[:_MOST_TOLD]))


def _place(rank: int | None) -> str:
    return "not listed" if rank is None else f"place {rank}"


def _simulated(compiled: Compiled, before: Field, rows: Mapping[str, Row], after: Field) -> Gate:
    """The same number of descriptions of each edition's own vehicles, read by the reader of today."""
    if not before.tables.size or not after.tables.size:
        return Gate(SIMULATED, LOOK, "no vehicle to describe")

    def was(code: str) -> Row:
        return unpacked(compiled.row_bytes(code))

    shares = []
    for row, field_ in ((was, before), (rows.__getitem__, after)):
        labels = simulated_labels(row, field_.tables, field_.unlisted_rate, DESCRIPTIONS)
        found = measure(labels, field_)
        right = sum(right for _, right in found.firsts)
        shares.append((right, len(labels), float(found.nll.mean()) if len(found.nll) else 0.0))
    (old, of_old, old_nll), (new, of_new, new_nll) = shares
    lines = (
        f"first answer right: {old} of {of_old} before, {new} of {of_new} after",
        f"mean surprise: {_thousandths(old_nll)} before, {_thousandths(new_nll)} after, in thousandths of a nat",
        "Simulated: it shows whether a change spoils the search, not how callers are.",
    )
    worse = _much_worse(old, of_old, new, of_new)
    words = f"first answer right for {new} of {of_new} (before: {old} of {of_old})"
    return Gate(SIMULATED, LOOK if worse else PASSED, words, lines)


def _much_worse(old: int, of_old: int, new: int, of_new: int) -> bool:
    """By more than two standard errors of the difference of two shares."""
    if not of_old or not of_new:
        return False
    share = (old + new) / (of_old + of_new)
    error = sqrt(share * (1 - share) * (1 / of_old + 1 / of_new))
    return old / of_old - new / of_new > 2 * error


def _thousandths(value: float) -> int:
    return round(value * 1000)
