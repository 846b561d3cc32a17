"""The responder's app as the server gives it: its page, what can be tapped, the search until its engine is there."""

import gzip
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.app import create_app
from catalog.config import Settings
from catalog.device.phone.asked import tapped
from catalog.domain.attributes import value_of
from catalog.domain.cautions import DEMO_MARK, FULL
from catalog.resolve.reading.canonical import canonical
from catalog.web.assets import FOLDER
from catalog.web.pages.phone import DAY, NIGHT
from catalog.web.phone_taps import asks, taps
from tests.unit.test_web_tokens import block


@pytest.fixture(scope="module")
def app(demo_data: Path) -> Iterator[Flask]:
    made = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data)}))
    yield made
    made.extensions["chockbook"].engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


def test_the_page_carries_mark_and_cautions_and_nothing_of_a_person_or_an_edition(client: FlaskClient) -> None:
    page = client.get("/phone").text
    assert DEMO_MARK in page
    for line in FULL:
        assert line.replace("'", "&#39;") in page
    assert "csrf" not in page
    assert not re.search(r"edition \d", page)


def test_nothing_is_inline_or_from_elsewhere(client: FlaskClient) -> None:
    answer = client.get("/phone")
    assert answer.headers["Content-Security-Policy"].startswith("default-src 'self';")
    assert " style=" not in answer.text
    assert "<style" not in answer.text
    for script in re.findall(r"<script[^>]*>", answer.text):
        assert 'src="/assets/' in script, script
    assert not re.search(r'(?:src|href)="(?:https?:)?//', answer.text)


def test_without_a_script_it_leads_to_the_page_that_needs_none_and_back(client: FlaskClient) -> None:
    noscript = re.search(r"<noscript>.*?</noscript>", client.get("/phone").text, re.DOTALL)
    assert noscript
    assert 'href="/crew"' in noscript[0]
    assert 'href="/phone"' in client.get("/crew").text
    assert 'href="/phone"' in client.get("/").text


def test_its_first_paint_asks_for_little(client: FlaskClient) -> None:
    """Page and style sheets, packed, are 30 kB at most: a second on the 2G profile of the browser test."""
    packed = {"Accept-Encoding": "gzip"}
    page = client.get("/phone", headers=packed)
    total = len(page.data)
    html = gzip.decompress(page.data).decode()
    for sheet in re.findall(r'<link rel="stylesheet" href="([^"]+)"', html):
        with client.get(sheet, headers=packed) as answer:
            assert answer.headers["Content-Encoding"] == "gzip"
            total += len(answer.data)
    assert total < 30_000
    assert 'rel="preload"' not in html  # no font in the way
    assert "font-display: swap" in (FOLDER / "tokens.css").read_text("utf-8")


def test_a_text_comes_plain_to_who_cannot_unpack_it(client: FlaskClient) -> None:
    answer = client.get("/phone", headers={"Accept-Encoding": "identity"})
    assert "Content-Encoding" not in answer.headers
    assert "Accept-Encoding" in answer.vary
    assert "<!doctype html>" in answer.text


def test_the_grounds_of_the_device_are_the_forms() -> None:
    assert block(":root")["ground"] == DAY
    assert block(':root[data-light="night"]')["ground"] == NIGHT


def test_every_cell_is_a_value_of_its_attribute_and_says_what_words_say() -> None:
    made = taps()
    cells = [*made.body, *made.port, *made.cover, *(cell for _, _, group in made.more for cell in group)]
    assert len(cells) > 60
    for cell in cells:
        assert value_of(cell.attribute, cell.value) == cell.value, cell
        assert canonical(tapped(cell.attribute, [cell.value])), cell


def test_every_shape_connector_door_and_selector_has_its_picture() -> None:
    made = taps()
    drawn = [made.body, *(cells for name, _, cells in made.more if name != "colour")]
    for cell in (cell for group in drawn for cell in group):
        assert cell.drawn, cell
        # The word beside it says the same: nothing is told by the picture alone.
        assert 'aria-hidden="true"' in cell.drawn


def test_what_cannot_be_told_by_a_tap_has_questions_to_be_left_out() -> None:
    about = set(asks().values())
    assert {"body", "port_place", "name", "connector", "door_mechanism", "selector"} <= about


def test_until_the_engine_is_there_the_server_answers_with_the_same_view(client: FlaskClient) -> None:
    body = {"text": "white, port left rear", "taps": [{"attribute": "body", "values": ["pickup"], "denied": False}]}
    answer = client.post("/phone/search", json={**body, "struck": [], "answers": {}, "excluded": [], "caller": None})
    view = answer.get_json()
    assert answer.status_code == 200, view
    assert answer.headers["Cache-Control"] == "no-store"
    said = {f"{chip['heading']} {chip['value']}": chip["given"] for chip in view["chips"]}
    assert said["body pickup"] is True
    assert said["colour white"] is False
    assert view["rows"]
    assert view["unlisted"]["title"] == "Not in this catalogue"
    assert view["ask"]["answers"][-1]["id"] == "cannot_tell"


def test_a_struck_cue_counts_no_more(client: FlaskClient) -> None:
    asked = {"text": "white pickup", "taps": [], "struck": [["body", ["pickup"], False, "A"]], "answers": {}}
    view = client.post("/phone/search", json={**asked, "excluded": []}).get_json()
    assert [chip["value"] for chip in view["chips"]] == ["white"]
    assert [chip["value"] for chip in view["struck"]] == ["pickup"]


@pytest.mark.parametrize(
    "body",
    [
        None,
        [],
        {"text": "x" * 2001},
        {"text": "", "taps": [{"attribute": "body", "values": ["boat"]}]},
        {"text": "", "struck": [["body"]]},
        {"text": "", "struck": "body"},
        {"text": "", "answers": {"no_such": "yes"}},
        {"text": "", "scene": {"fire": 3}},
    ],
)
def test_what_cannot_be_asked_is_refused_with_a_cure(client: FlaskClient, body: object) -> None:
    answer = client.post("/phone/search", json=body)
    assert answer.status_code == 400
    told = answer.get_json()
    assert told["words"]
    assert told["cure"]
