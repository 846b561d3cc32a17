"""A guide's file over the API: stored as it is by who may, handed over to keep, opened at a page by its address."""

from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.app import create_app
from catalog.domain.roles import Role
from catalog.services.house import House
from catalog.services.sources import LARGEST
from tests.integration.conftest import Filled
from tests.integration.review_samples import three_records
from tests.people import somebody, token_of

FILE = "/api/v1/sources/KEL-7/1/file"
PDF = b"%PDF-1.7\n% an invented guide\n"


@pytest.fixture
def app(filled: Filled) -> Iterator[Flask]:
    made = create_app(filled(three_records))
    yield made
    made.extensions["chockbook"].engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


def token(app: Flask, role: Role = Role.STEWARD) -> dict[str, str]:
    house: House = app.extensions["chockbook"]
    somebody(house, f"some.{role}", role)
    return {"Authorization": f"Bearer {token_of(house, f'some.{role}', role)}"}


def test_it_is_stored_handed_over_and_opened_at_a_page(app: Flask, client: FlaskClient) -> None:
    headers = token(app)
    none = client.get(FILE)
    assert (none.status_code, none.content_type) == (404, "application/problem+json")
    unsaid = client.post(f"{FILE}?name=kella.pdf", data=PDF, content_type="application/pdf", headers=headers)
    assert unsaid.status_code == 400
    assert "states no hash" in unsaid.get_json()["detail"]
    address = f"{FILE}?name=../k%22ella%0A.pdf&stated_anew=true"
    sent = client.post(address, data=PDF, content_type="application/pdf", headers=headers)
    told = sent.get_json()
    assert (sent.status_code, told["key"], told["media_type"]) == (200, "KEL-7/1", "application/pdf")
    again = client.post(address, data=PDF, content_type="application/octet-stream", headers=headers).get_json()
    assert again == told
    kept = client.get(FILE.replace("KEL", "kel"))
    assert kept.data == PDF
    assert kept.headers["X-Content-Type-Options"] == "nosniff"
    assert kept.headers["Content-Disposition"].startswith("attachment")
    assert kept.content_type == "application/octet-stream"
    shown = client.get(told["address"])
    assert (shown.data, shown.content_type) == (PDF, "application/pdf")
    assert shown.headers["X-Content-Type-Options"] == "nosniff"
    assert shown.headers["Content-Disposition"].startswith("inline")
    [row] = client.get("/api/v1/sources").get_json()["sources"]
    assert row["file"] == told["hash"]


def test_what_is_no_picture_or_pdf_is_never_shown(app: Flask, client: FlaskClient) -> None:
    page = b"<script>alert(1)</script>"
    address = f"{FILE}?name=a.html&stated_anew=true"
    told = client.post(address, data=page, content_type="image/png", headers=token(app)).get_json()
    assert told["media_type"] == "application/octet-stream"
    assert client.get(told["address"]).headers["Content-Disposition"].startswith("attachment")


def test_who_may_not_is_refused_before_it_is_read(app: Flask, client: FlaskClient) -> None:
    address = f"{FILE}?name=a.pdf&stated_anew=true"
    assert client.post(address, data=PDF, content_type="application/pdf").status_code == 401
    reader = token(app, Role.READER)
    assert client.post(address, data=PDF, content_type="application/pdf", headers=reader).status_code == 403
    steward = token(app)
    wrong = client.post(address, data=PDF, content_type="text/html", headers=steward)
    assert wrong.status_code == 415
    large = client.post(address, data=bytes(LARGEST + 1), content_type="application/pdf", headers=steward)
    assert large.status_code == 413
    assert client.post(address, data=b"", content_type="application/pdf", headers=steward).status_code == 400
    unknown = "/api/v1/sources/KEL-9/1/file?name=a.pdf&stated_anew=true"
    assert client.post(unknown, data=PDF, content_type="application/pdf", headers=steward).status_code == 404
    assert client.get(FILE).status_code == 404
