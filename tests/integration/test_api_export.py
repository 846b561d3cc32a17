"""The catalogue as a file over the API."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from flask import Flask

from catalog.app import create_app
from catalog.domain.roles import Role
from catalog.intake.files import read_file
from catalog.intake.mapping import Records
from tests.integration.conftest import Filled
from tests.integration.review_samples import MODELS, three_records
from tests.people import somebody, token_of


@pytest.fixture
def app(filled: Filled) -> Iterator[Flask]:
    made = create_app(filled(three_records))
    yield made
    made.extensions["chockbook"].engine.dispose()


def asked(app: Flask, query: str, role: Role = Role.STEWARD) -> Any:
    house = app.extensions["chockbook"]
    somebody(house, "tam.orrell", role)
    headers = {"Authorization": f"Bearer {token_of(house, 'tam.orrell', role)}"}
    return app.test_client().get(f"/api/v1/export{query}", headers=headers, buffered=True)


def test_a_workbook_comes_as_a_file_to_keep(app: Flask) -> None:
    answer = asked(app, "?format=xlsx")
    assert answer.status_code == 200
    assert answer.headers["Content-Disposition"] == "attachment; filename=chockbook-edition-1.xlsx"
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Chockbook-Edition"] == "1"
    contents = read_file(answer.data, "chockbook-edition-1.xlsx")
    assert {one.code for one in Records(contents.sheets, "all")} == set(MODELS)


def test_json_lines_are_the_habit_and_csv_is_a_zip(app: Flask) -> None:
    lines = [json.loads(line) for line in asked(app, "").data.splitlines()]
    assert {line["key"] for line in lines if line["kind"] == "record"} == set(MODELS)
    token = token_of(app.extensions["chockbook"], "tam.orrell", Role.STEWARD)
    packed = app.test_client().get(
        "/api/v1/export?format=csv", headers={"Authorization": f"Bearer {token}"}, buffered=True
    )
    assert packed.data[:2] == b"PK"
    assert packed.headers["Content-Disposition"].endswith("chockbook-edition-1.zip")


def test_an_edition_that_is_not_there_and_a_form_nobody_knows(app: Flask) -> None:
    assert asked(app, "?edition=9").status_code == 404
    token = token_of(app.extensions["chockbook"], "tam.orrell", Role.STEWARD)
    wrong = app.test_client().get(
        "/api/v1/export?format=pdf", headers={"Authorization": f"Bearer {token}"}, buffered=True
    )
    assert wrong.status_code == 400
    assert "jsonl, xlsx, csv" in wrong.get_json()["errors"][0]["cure"]


def test_a_reader_may_not_take_it_away(app: Flask) -> None:
    assert asked(app, "", Role.READER).status_code == 403
