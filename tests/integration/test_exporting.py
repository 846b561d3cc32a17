"""Exports, on both databases: every form holds every record whole, in the name of somebody who may, in the trail."""

import io
import json
from collections.abc import Iterator

import pytest

from catalog.domain.canonical import content_hash
from catalog.domain.roles import Role
from catalog.errors import Forbidden, NotFound, NotSignedIn
from catalog.intake.applying import apply
from catalog.intake.files import read_file
from catalog.intake.mapping import Records
from catalog.intake.sourcing import sources_of
from catalog.services.acting import actor_of
from catalog.services.exporting import Form, export_records, write_export
from catalog.services.house import House, open_house
from catalog.services.trail import TrailAsked, read_trail
from tests.integration.conftest import Filled
from tests.integration.review_samples import MODELS, READER, SOURCE, STEWARD, document, source, three_records

ADMIN = actor_of("a.dorn", Role.ADMINISTRATOR, "test")


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(three_records))
    yield made
    made.engine.dispose()


def exported(house: House, form: Form) -> bytes:
    held = io.BytesIO()
    assert write_export(export_records(house, STEWARD, form), form, held) == len(MODELS) + 1
    return held.getvalue()


@pytest.mark.parametrize("form", [Form.XLSX, Form.CSV])
def test_rows_hold_every_record_and_source_whole(house: House, form: Form) -> None:
    contents = read_file(exported(house, form), f"all.{form.ending}")
    made = {one.code: apply(None, one)[0] for one in Records(contents.sheets, "all")}
    assert {code: content_hash(one) for code, one in made.items()} == {
        code: content_hash(document(code)) for code in MODELS
    }
    assert sources_of(contents.sheets, "all")[0] == {SOURCE: source()}


def test_json_lines_are_the_documents_as_stored(house: House) -> None:
    lines = [json.loads(line) for line in exported(house, Form.JSONL).splitlines()]
    assert [line["kind"] for line in lines] == ["source", "record", "record", "record"]
    assert {line["key"]: line["document"] for line in lines[1:]} == {code: document(code) for code in MODELS}


def test_an_export_is_in_the_trail_with_its_form(house: House) -> None:
    exported(house, Form.CSV)
    (entry,) = read_trail(house, ADMIN, TrailAsked(action="export")).entries
    assert (entry.actor, entry.subject, entry.detail) == (STEWARD.name, "edition 1", {"form": "csv"})


def test_who_may_not_export_is_told_so_before_anything_is_read(house: House) -> None:
    with pytest.raises(NotSignedIn):
        export_records(house, None, Form.JSONL)
    with pytest.raises(Forbidden):
        export_records(house, READER, Form.JSONL)
    with pytest.raises(NotFound, match="no edition 7"):
        export_records(house, STEWARD, Form.JSONL, edition=7)
    assert read_trail(house, ADMIN, TrailAsked(action="export")).total == 0
