"""A doubt by the API and on the pages: who may, what is said beside the fact, what open pages are told."""

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

import seed_demo
from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.errors import Forbidden
from catalog.services import reviewing
from catalog.services.acting import actor_of
from catalog.services.doubting import doubt, restore
from catalog.services.house import House
from catalog.services.records import read_record, read_source
from catalog.services.seeding import prepare_demo

STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
WHY = "A crew found it on the other side."
CODE = "QPW-TF3"


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    folder: Path = tmp_path_factory.mktemp("doubts")
    made = create_app(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}", demo=True))
    house: House = made.extensions["chockbook"]
    demo = seed_demo.load()
    records = {CODE: demo.editions[0].records[CODE]}
    few = replace(demo.editions[0], records=records, reasons={}, withdrawn={})
    prepare_demo(house, replace(demo, editions=(few,)), lambda _: None)
    yield made
    house.engine.dispose()


@pytest.fixture
def client(app: Flask, monkeypatch: pytest.MonkeyPatch) -> FlaskClient:
    monkeypatch.setattr("catalog.web.pages.doubts.actor", lambda: STEWARD)
    return app.test_client()


def fresh(house: House) -> None:
    house.shelf._looked = -1e9
    house.shelf.current()


def next_fact(house: House) -> str:
    fresh(house)
    facts = read_record(house, CODE).record.facts
    return next(path for path in facts if path.endswith(".place") and "badges" not in path)


def test_from_the_form_to_the_page(app: Flask, client: FlaskClient) -> None:
    house: House = app.extensions["chockbook"]
    path = next_fact(house)
    number = house.shelf.current().number
    seen = read_record(house, CODE).hash
    form = client.get(f"/records/{CODE}/doubt", query_string={"path": path}).text
    assert seen in form
    assert "It says now:" in form
    token = re.search(r'name="csrf_token" value="([^"]+)"', form)
    assert token is not None
    given = {"path": path, "reason": WHY, "seen": seen, "csrf_token": token[1]}
    assert client.post(f"/records/{CODE}/doubt", data={**given, "csrf_token": ""}).status_code == 400
    sent = client.post(f"/records/{CODE}/doubt", data=given)
    assert sent.status_code == 303
    fresh(house)
    shown = client.get(f"/records/{CODE}").text
    assert WHY in shown
    assert "fact taken back" in shown
    assert re.search(r'not stated</b>, <a class="doubted" href="#doubts">doubted at \d[^<]*</a>, read as: <span', shown)
    assert WHY not in client.get(f"/records/{CODE}?edition={number}").text  # nobody doubted it then
    again = client.post(f"/records/{CODE}/doubt", data={**given, "seen": ""})
    assert again.status_code == 409
    assert "doubted already" in again.text
    assert WHY in client.get("/steward/doubts").text


def test_nobody_signed_in_cannot(app: Flask) -> None:
    made = app.test_client()
    assert made.get(f"/records/{CODE}/doubt").status_code in (302, 303, 401)
    assert made.post("/api/v1/doubts", json={"code": CODE, "path": "ports[a].place", "reason": WHY}).status_code == 401


def test_choosing_a_fact(client: FlaskClient) -> None:
    page = client.get(f"/records/{CODE}/doubt?words=cut").text
    assert "Which fact is doubted?" in page
    assert "/doubt?path=" in page


def test_the_api_says_what_is_doubted_since(app: Flask, client: FlaskClient) -> None:
    house: House = app.extensions["chockbook"]
    path = next_fact(house)
    before = client.get("/api/v1/editions/newest").json
    assert before is not None
    number = doubt(house, STEWARD, CODE, path, WHY)
    fresh(house)
    after = client.get(f"/api/v1/editions/newest?since={before['number']}")
    assert after.json is not None
    assert after.json["number"] == number
    [told] = after.json["doubts"]
    assert (told["code"], told["path"], told["edition"], told["reason"]) == (CODE, path, number, WHY)
    same = client.get(
        f"/api/v1/editions/newest?since={before['number']}", headers={"If-None-Match": after.headers["ETag"]}
    )
    assert same.status_code == 304
    record = client.get(f"/api/v1/records/{CODE}").json
    assert record is not None
    assert record["doubts"][0]["path"] == path
    name, _, rest = path.partition("[")
    item, _, inside = rest.partition("].")
    held = record
    for key in name.split("."):
        held = held[key]
    [fact] = [each[inside] for each in held if each["id"] == item]
    assert fact["state"] == "not_stated"
    assert fact["doubted"]["since"] == told["since"]
    assert fact["doubted"]["reason"] == WHY
    assert [fact["doubted"]["read_as"]] == ["; ".join(dict.fromkeys(each["words"] for each in fact["readings"]))]
    standing = client.get("/api/v1/doubts").json
    assert standing is not None
    assert standing["doubts"][0]["path"] == path


def test_a_doubt_stands_beside_what_it_took_in_every_answer(app: Flask, client: FlaskClient) -> None:
    house: House = app.extensions["chockbook"]
    said = {"text": "white pickup, port left rear", "include": ["facts"]}
    before = client.post("/api/v1/resolve", json=said).get_json()
    places = {fact["key"]: fact for fact in before["facts"]}
    path, item = "cutoff.methods[hvplug].place", "restraints.inflators[raill]"
    assert path not in [each["path"] for each in places["cutoff.methods.place"]["doubts"]]
    assert places["restraints.inflators.place"]["doubts"] == []
    doubt(house, STEWARD, CODE, path, WHY)
    doubt(house, STEWARD, CODE, item, WHY)
    fresh(house)
    after = client.post("/api/v1/resolve", json=said).get_json()
    facts = {fact["key"]: fact for fact in after["facts"]}
    mark = facts["cutoff.methods.place"]["doubts"][0]
    assert (mark["code"], mark["path"], mark["reason"]) == (CODE, path, WHY)
    assert mark["mark"] in facts["cutoff.methods.place"]["said"]
    assert ", read as: " in mark["mark"]
    assert [each["path"] for each in facts["restraints.inflators.place"]["doubts"]] == [item]
    assert facts["motion.selector"]["doubts"] == []
    [first] = [candidate for candidate in after["candidates"] if candidate["code"] == CODE]
    assert {path, item} <= {each["path"] for each in first["doubts"]}
    page = client.post("/crew", data={"said": said["text"], "facts": "1"}).text
    assert re.search(r"Doubted at \d[^<]*</b> on <a href=\"/records/QPW-TF3#doubts\">QPW-TF3</a>, read as: ", page)
    assert re.search(r"Way \(hvplug\): where: doubted at \d", page)
    record = client.get(f"/api/v1/records/{CODE}").get_json()
    assert [each["path"] for each in record["lists"]["restraints.inflators"]["doubted"]] == [item]


def test_a_light_question_asks_no_database(app: Flask, client: FlaskClient, monkeypatch: pytest.MonkeyPatch) -> None:
    house: House = app.extensions["chockbook"]
    fresh(house)

    def away(*_: object) -> None:
        raise AssertionError("the database was asked")

    monkeypatch.setattr(house.engine, "connect", away)
    assert client.get("/api/v1/editions/newest").status_code == 200


def test_restoring_takes_another_person(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    path = next_fact(house)
    fact = read_record(house, CODE).record.fact(path)
    number = doubt(house, STEWARD, CODE, path, WHY)
    update = restore(house, STEWARD, CODE, path, "The guide is right after all.")
    fresh(house)
    assert path not in read_record(house, CODE).record.facts  # nothing changes by proposing
    with pytest.raises(Forbidden):
        reviewing.decide(house, STEWARD, reviewing.Judgement(int(update), CODE, "accept", None, "", ""))
    assert house.shelf.current().number == number
    assert fact.src


def test_a_guides_file_is_stored_from_its_page_and_served_harmless(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    house: House = app.extensions["chockbook"]
    monkeypatch.setattr("catalog.web.pages.work.actor", lambda: STEWARD)
    client = app.test_client()
    key = next(key for key in house.shelf.current().source_keys if read_source(house, key).sha256 is None)
    assert client.get(f"/source-files/{key}").status_code == 404
    monkeypatch.setattr("catalog.web.pages.doubts.actor", lambda: STEWARD)
    page = client.get(f"/records/{CODE}/doubt?path=looks.body").text
    found = re.search(r'name="csrf_token" value="([^"]+)"', page)
    assert found is not None
    content = b"%PDF-1.7 " + b"invented " * 20_000  # larger than anything typed may be
    data = {"csrf_token": found[1], "is_its_file": "yes", "file": (io.BytesIO(content), "guide.pdf")}
    sent = client.post(f"/source-files/{key}", data=data)
    assert (sent.status_code, sent.headers.get("Location")) == (303, f"/sources/{key}")
    served = client.get(f"/source-files/{key}")
    assert served.data == content
    assert served.mimetype == "application/pdf"
    assert served.headers["X-Content-Type-Options"] == "nosniff"
    assert "default-src 'none'" in served.headers["Content-Security-Policy"]


def test_the_records_of_another_time_and_a_naive_one(client: FlaskClient) -> None:
    assert "As it stood from" in client.get("/records?edition=1").text
    refused = client.get("/records?at=2026-03-01T09:00:00")
    assert refused.status_code == 400
    assert "Write it as RFC 3339" in refused.text
    assert client.get("/records?sort=nothing").status_code == 400


def test_steps_and_possible_vehicles_say_what_is_doubted(app: Flask, client: FlaskClient) -> None:
    house: House = app.extensions["chockbook"]
    path = next_fact(house)
    doubt(house, STEWARD, CODE, path, "The bonnet hides it.")
    fresh(house)
    steps = client.post("/api/v1/steps", json={"codes": [CODE]}).json
    assert steps is not None
    assert any("DOUBTED since" in told and "The bonnet hides it." in told for told in steps["cautions"])
    assert "The bonnet hides it." in client.get(f"/records/{CODE}/steps").text
    title = read_record(house, CODE).record.identity.title
    found = client.post("/api/v1/resolve", json={"text": title}).json
    assert found is not None
    assert any("The bonnet hides it." in told for told in found["cautions"])
