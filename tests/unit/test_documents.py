"""Document -> object -> document is the identity, and the order of items is kept."""

from hypothesis import given, settings

from catalog.domain.canonical import canonical_bytes, parse_canonical
from catalog.domain.documents import document_from_record, record_from_document, references
from catalog.domain.record import lines
from schemas.record import check_record, structure_findings
from tests.strategies import Document, documents, plausible_documents

# Drawing documents takes most of the time.
SOME = settings(max_examples=30)


@settings(max_examples=60)
@given(documents())
def test_document_to_object_to_document_is_the_identity(document: Document) -> None:
    assert document_from_record(record_from_document(document)) == document


@SOME
@given(documents())
def test_canonical_bytes_carry_the_whole_document(document: Document) -> None:
    assert parse_canonical(canonical_bytes(document)) == document


@SOME
@given(documents())
def test_what_the_specification_can_say_passes_the_gates_form(document: Document) -> None:
    assert structure_findings(document) == []


@SOME
@given(plausible_documents())
def test_what_is_plausible_too_passes_the_whole_gate(document: Document) -> None:
    record, _ = check_record(document)
    assert document_from_record(record) == document


@SOME
@given(documents())
def test_every_fact_of_the_document_stands_in_the_records_lines(document: Document) -> None:
    record = record_from_document(document)
    shown = {line.path: line.fact for line in lines(record)}
    assert {path: shown[path] for path in record.facts} == dict(record.facts)


@SOME
@given(documents())
def test_references_finds_every_source(document: Document) -> None:
    record = record_from_document(document)
    claimed = {ref for fact in [*record.facts.values(), *record.complete.values()] for ref in fact.sources()}
    claimed |= set(record.identity.src) | {ref for note in record.notes for ref in note.src}
    assert set(references(document)) == claimed


def test_items_keep_their_order() -> None:
    said = {"value": "power_off", "src": ["AB-1/1:1"]}
    methods = [{"id": item, "kind": said} for item in ("z", "b", "m")]
    record = record_from_document({"identity": _IDENTITY, "cutoff": {"methods": methods}})
    assert record.items["cutoff.methods"] == ("z", "b", "m")
    written = document_from_record(record)
    assert [entry["id"] for entry in written["cutoff"]["methods"]] == ["z", "b", "m"]


_IDENTITY = {
    "make": "Ondru", "model": "Kella", "years": {"from": 2021}, "propulsion": "battery", "category": "M1",
    "steering": ["left"], "markets": ["europe"], "src": ["AB-1/1:1"],
}  # fmt: skip
