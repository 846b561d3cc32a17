"""Guide updates by page, API and terminal: the same counts, the same findings, and who may."""

import json
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.api.import_operations import WORKBOOK
from catalog.app import create_app
from catalog.cli.main import run
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services.accounts import NewAccount, add_account, add_first_administrator
from catalog.services.acting import actor_of
from catalog.services.house import House, open_house
from catalog.services.signing import TERMINAL, Tried, sign_in
from catalog.store.engine import write
from catalog.store.publish import Publication, publish
from tests.integration.test_importing import of_one_maker
from tests.update_workbook import CAME, CORRECTED, FOLDER

PASSWORD = "a long enough password for tests"
COUNTS = {"added": 0, "changed": 2, "unchanged": 0, "withdrawn": 0, "left_out": 4, "sources": 1}


@pytest.fixture
def app(database_url: str, tmp_path: Path) -> Iterator[Flask]:
    made = create_app(Settings(data=tmp_path, database_url=database_url))
    house: House = made.extensions["chockbook"]
    records, sources = of_one_maker()
    with write(house.engine) as conn:
        publish(conn, Publication("A. Steward", "All of one maker.", records, sources=sources), 1_000_000)
    add_first_administrator(house, NewAccount("a.dornick", Role.ADMINISTRATOR, "", PASSWORD))
    admin = actor_of("a.dornick", Role.ADMINISTRATOR, "test")
    for name, role in (("p.lovage", Role.STEWARD), ("r.thorne", Role.READER)):
        add_account(house, admin, NewAccount(name, role, "", PASSWORD))
    yield made
    house.engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


def token_of(client: FlaskClient, path: str) -> str:
    text = client.get(path).text
    return text.split('name="csrf_token" value="', 1)[1].split('"', 1)[0]


def signed_in(client: FlaskClient, name: str) -> None:
    posted = {"name": name, "password": PASSWORD, "csrf_token": token_of(client, "/sign-in")}
    assert client.post("/sign-in", data=posted).status_code == 303


def brought(client: FlaskClient, name: str, **more: str) -> str:
    form = {
        "file": (BytesIO((FOLDER / name).read_bytes()), name),
        "csrf_token": token_of(client, "/steward/updates/new"),
    }
    answered = client.post("/steward/updates/new", data={**form, **more}, content_type="multipart/form-data")
    assert answered.status_code == 200, answered.text
    return answered.text


def test_a_file_on_the_page_is_checked_marked_and_sent(client: FlaskClient) -> None:
    signed_in(client, "p.lovage")
    text = brought(client, CAME)
    for said in (
        "sheet ports, cell D2",
        "Did you mean CCS1?",
        "Quellorne Tarlowby Plug",
        "is older than what is stated",
    ):
        assert said in text
    kept = text.split("/steward/updates/new/", 2)[2].split("/", 1)[0]
    marked = client.get(f"/steward/updates/new/{kept}/marked.xlsx")
    assert marked.data.startswith(b"PK")
    corrected = brought(client, CORRECTED)
    kept = corrected.split('action="/steward/updates/new/', 1)[1].split("/", 1)[0]
    token = token_of(client, "/steward/updates/new")
    sent = client.post(f"/steward/updates/new/{kept}/send", data={"csrf_token": token})
    assert sent.status_code == 303
    assert sent.location.startswith("/steward/updates/")
    assert client.get(sent.location).status_code == 200


def test_a_kept_file_is_only_for_who_brought_it(app: Flask) -> None:
    steward, reader = app.test_client(), app.test_client()
    signed_in(steward, "p.lovage")
    kept = brought(steward, CAME).split("/steward/updates/new/", 2)[2].split("/", 1)[0]
    signed_in(reader, "r.thorne")
    assert reader.get(f"/steward/updates/new/{kept}/marked.xlsx").status_code == 403
    assert reader.get("/steward/updates/new").status_code == 403
    assert app.test_client().get("/steward/updates/new").status_code == 303
    assert steward.get(f"/steward/updates/new/{'0' * 64}/marked.xlsx").status_code == 404
    assert steward.get("/steward/updates/new/..%2f..%2fchockbook.db/marked.xlsx").status_code == 404


def test_only_who_may_can_send_much(client: FlaskClient) -> None:
    large = {"file": (BytesIO(b"x" * 200_000), "a.csv")}
    refused = client.post("/steward/updates/new", data=large, content_type="multipart/form-data")
    assert refused.status_code == 401
    sent = client.post("/api/v1/updates?name=a.csv", data=b"x" * 200_000, content_type="text/csv")
    assert sent.status_code == 401


def test_no_file_and_a_refused_file_are_said(client: FlaskClient) -> None:
    signed_in(client, "p.lovage")
    token = token_of(client, "/steward/updates/new")
    none = client.post("/steward/updates/new", data={"csrf_token": token}, content_type="multipart/form-data")
    assert none.status_code == 400
    assert "No file was chosen" in none.text
    form = {"file": (BytesIO(b"code\nfl\xfcgel\n"), "a.csv"), "csrf_token": token}
    bad = client.post("/steward/updates/new", data=form, content_type="multipart/form-data")
    assert "which is not UTF-8" in bad.text


def secret(app: Flask, name: str) -> dict[str, str]:
    signed = sign_in(app.extensions["chockbook"], Tried(name, PASSWORD, "terminal", TERMINAL))
    return {"Authorization": f"Bearer {signed.secret}"}


def test_the_api_answers_counts_and_findings_and_sends(app: Flask, client: FlaskClient) -> None:
    headers = secret(app, "p.lovage")
    body = (FOLDER / CAME).read_bytes()
    address = f"/api/v1/updates?name={CAME}"
    checked = client.post(f"{address}&propose=false", data=body, content_type=WORKBOOK, headers=headers)
    assert checked.status_code == 200, checked.text
    document = checked.get_json()
    assert document["counts"] == COUNTS
    assert document["update"] == ""
    assert {one["severity"] for one in document["findings"]} == {"blocks", "needs a look"}
    sent = client.post(address, data=body, content_type=WORKBOOK, headers=headers).get_json()
    again = client.post(address, data=body, content_type=WORKBOOK, headers=headers).get_json()
    assert sent["update"] == again["update"] != ""
    assert (sent["again"], again["again"]) == (False, True)
    assert sent["counts"] == COUNTS
    wrong = client.post(address, data=body, content_type="text/html", headers=headers)
    assert (wrong.status_code, wrong.get_json()["type"]) == (415, "/api/v1/docs#not-json")
    assert client.post(address, data=body, content_type=WORKBOOK).status_code == 401
    reader = secret(app, "r.thorne")
    assert client.post(address, data=body, content_type=WORKBOOK, headers=reader).status_code == 403


def test_the_terminal_says_the_same(
    app: Flask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    settings = app.extensions["chockbook"].settings
    monkeypatch.setenv("CHOCKBOOK_DATA", str(settings.data))
    monkeypatch.setenv("CHOCKBOOK_DATABASE", settings.database_url)
    opened: list[House] = []

    def noticed(given: Settings) -> House:
        opened.append(open_house(given))
        return opened[-1]

    monkeypatch.setattr("catalog.services.house.open_house", noticed)
    marked = tmp_path / "marked.xlsx"
    assert run(["import", str(FOLDER / CAME), "--json", "--marked", str(marked)]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["counts"] == COUNTS
    assert marked.read_bytes().startswith(b"PK")
    assert run(["import", str(FOLDER / CAME), "--as", "p.lovage"]) == 6
    monkeypatch.setenv("CHOCKBOOK_TOKEN", secret(app, "p.lovage")["Authorization"].removeprefix("Bearer "))
    assert run(["import", str(FOLDER / CORRECTED)]) == 0
    assert "Sent to review as update 1." in capsys.readouterr().out
    assert run(["import"]) == 2
    assert run(["import", str(tmp_path / "missing.xlsx")]) == 2
    assert run(["import", "--template", str(tmp_path / "template.xlsx")]) == 0
    assert (tmp_path / "template.xlsx").read_bytes().startswith(b"PK")
    capsys.readouterr()
    folder = tmp_path / "folder"
    folder.mkdir()
    (folder / "ports.csv").write_text("code,charge port id,covered by,source\nQPW-TF3,a,lamp,QLN-118/2:8\n")
    monkeypatch.delenv("CHOCKBOOK_TOKEN")
    assert run(["import", str(folder)]) == 0
    assert "1  changed" in capsys.readouterr().out
    # A command lets go of the database: whoever runs one inside a process has no connection left open.
    assert opened
    assert [each.engine.pool.checkedin() for each in opened] == [0] * len(opened)  # type: ignore[attr-defined]
