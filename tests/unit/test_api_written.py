"""The documented record holds for every record that can be written out."""

from copy import deepcopy
from functools import cache

import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator

from catalog.domain.record import Record
from catalog.services.views import RecordView
from schemas.answer_parts import EditionShort
from schemas.answers import record_document
from schemas.written_schema import components
from tests.strategies import records
from tests.unit.api_fakes import EDITIONS, SOURCE, record_view


@cache
def validator() -> Draft202012Validator:
    schemas = {**components(), "EditionShort": {"type": "object", "required": list(EditionShort().fields)}}
    root = {"$ref": "#/components/schemas/Record", "components": {"schemas": schemas}}
    Draft202012Validator.check_schema(root)
    return Draft202012Validator(root)


def written(record: Record) -> dict[str, object]:
    view = RecordView("QK7-M3M", EDITIONS[2], 3, 1, "c" * 64, record, {}, {SOURCE.key: SOURCE})
    return record_document(view, ("caution",))


@given(records())
@settings(max_examples=30)
def test_any_record_written_out_is_as_documented(record: Record) -> None:
    validator().validate(written(record))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("motion", "selector", "state"), "none"),
        (("motion", "selector"), None),
        (("ports", 0, "place", "value", "side"), "driver"),
        (("ports", 0, "place", "value", "zone"), "A1"),
        (("energy", "pyro_fuse", "fitted", "value"), False),
        (("lists", "ports", "complete"), "no"),
        (("extra",), 1),
    ],
)
def test_the_documented_record_refuses_what_is_never_written(path: tuple[str | int, ...], value: object) -> None:
    document = deepcopy(record_document(record_view(EDITIONS[2]), ("caution",)))
    validator().validate(document)
    node = document
    for part in path[:-1]:
        node = node[part]  # type: ignore[index]
    node[path[-1]] = value  # type: ignore[index]
    assert list(validator().iter_errors(document))


def test_leaving_out_a_fact_is_not_as_documented() -> None:
    document = record_document(record_view(EDITIONS[2]), ("caution",))
    del document["motion"]["selector"]
    assert list(validator().iter_errors(document))
