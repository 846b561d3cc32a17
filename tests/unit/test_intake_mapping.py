"""Records as rows and back: nothing is lost, nothing is added, one cell is one change."""

from typing import Any

from hypothesis import HealthCheck, given, settings

from catalog.domain.canonical import content_hash
from catalog.intake.applying import apply
from catalog.intake.mapping import given_of
from catalog.intake.sourcing import sources_of
from seed_demo.files import read_families, read_sources
from tests.strategies import documents
from tests.workbook_rows import sheets_of, table_of

CODE = "QK7-M3M"


def test_every_demo_record_and_source_comes_back_byte_for_byte_from_its_rows() -> None:
    records, sources = read_families(), read_sources()
    sheets = sheets_of(table_of(records, sources.values()))
    said, findings = given_of(sheets, "all.xlsx")
    assert findings == ()
    assert [one.code for one in said] == list(records)
    for one in said:
        for base in (None, records[one.code]):
            made, found = apply(base, one)
            assert found == ()
            assert content_hash(made) == content_hash(records[one.code]), one.code
    back, places, found = sources_of(sheets, "all.xlsx")
    assert found == ()
    assert set(places) == set(sources)
    assert {key: content_hash(source) for key, source in back.items()} == {
        key: content_hash(source) for key, source in sources.items()
    }


@given(documents())
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_document_comes_back_from_its_rows(document: dict[str, Any]) -> None:
    (one,), findings = given_of(sheets_of(table_of({CODE: document})), "any.xlsx")
    assert findings == ()
    for base in (None, document):
        made, found = apply(base, one)
        assert found == ()
        assert content_hash(made) == content_hash(document)
