"""Briefs from the desk without a browser: unstored and marked, never without a brief, never written by who may not."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.app import create_app
from catalog.config import Settings
from catalog.services.brief_views import UNSTORED, Gone, NewerFact, NewerView, ReadBackView
from catalog.services.briefs import BriefAsked, compose_unstored
from catalog.services.house import House
from catalog.web import wording
from catalog.web.brief_shown import sent_shown
from catalog.web.render import page

SAID = "white pickup, port left rear"


@pytest.fixture(scope="module")
def app(demo_data: Path) -> Iterator[Flask]:
    made = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data)}))
    yield made
    made.extensions["chockbook"].engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


def test_a_draft_stands_beside_the_answer_and_names_its_vehicle(client: FlaskClient) -> None:
    html = client.post("/desk/live", data={"said": SAID, "letter": "C"}).text
    assert "data-draft" in html
    assert "Vehicle C." in html


def test_nobody_signed_in_gets_a_marked_brief_and_no_link(client: FlaskClient) -> None:
    html = client.post("/desk/unstored", data={"said": SAID, "letter": "B", "key": "k" * 32}).text
    assert UNSTORED in html
    assert wording.BRIEF_UNSTORED_WHY["nobody"] in html
    assert "Vehicle B." in html
    assert 'data-id=""' in html
    assert "/b/" not in html


def test_a_second_unstored_one_says_that_the_correction_must_be_said(client: FlaskClient) -> None:
    html = client.post("/desk/unstored", data={"said": SAID, "key": "k" * 32, "again": "1"}).text
    assert wording.BRIEF_UNSTORED_WHY["correction"] in html


def test_without_a_script_the_brief_comes_on_the_whole_desk(client: FlaskClient) -> None:
    html = client.post("/desk/unstored", data={"said": SAID, "scene": "fire=yes"}).text
    assert UNSTORED in html
    assert 'id="step-1"' in html
    assert SAID in html


def test_what_writes_asks_for_the_pages_token(client: FlaskClient) -> None:
    for path in ("/desk/brief", "/desk/brief/sent", "/desk/brief/read-back", "/desk/brief/now"):
        assert client.post(path, data={"said": SAID, "id": "B-1"}).status_code == 400, path


def test_the_scene_as_the_desk_shows_it_is_the_briefs(client: FlaskClient) -> None:
    fire = client.post("/desk/unstored", data={"said": f"{SAID}, smoke", "key": "k" * 32}).text
    no_fire = client.post("/desk/unstored", data={"said": f"{SAID}, smoke", "scene": "fire=no", "key": "k" * 32}).text
    assert "Pack fire" in fire
    assert "Pack fire" not in no_fire


def test_a_text_too_long_has_its_reason_in_the_pane(client: FlaskClient) -> None:
    html = client.post("/desk/unstored", data={"said": "x" * 2001, "key": "k" * 32}).text
    assert "2001 characters" in html
    assert "data-kept" not in html


def test_what_a_newer_edition_says_otherwise_stands_beside_the_brief(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    view = compose_unstored(house, BriefAsked(text=SAID))
    at = datetime(2026, 3, 2, 3, 11, tzinfo=UTC)
    fact = NewerFact("QPW-TF3", "cutoff.wait", "Wait after it", "2 min", "not stated: treat as live", at)
    newer = NewerView(4, at, (fact,), (Gone("2MP-XP4", "Cut point wrong."),))
    told = replace(view, id="B-TEST", newer=newer, read_back=(ReadBackView("Rescue 2", "", "jonah.tellwright", at),))
    with app.test_request_context("/desk"):
        html = page("became.html", **sent_shown(told))
    assert "data-newer" in html
    assert "was 2 min; now not stated: treat as live" in html
    assert f"<b>{wording.DO_NOT_USE}</b> 2MP-XP4: Cut point wrong." in html
    assert "by Rescue 2" in html
    with app.test_request_context("/desk"):
        quiet = page("became.html", **sent_shown(replace(told, newer=NewerView(4, at, (), ()))))
    assert "data-newer" not in quiet
