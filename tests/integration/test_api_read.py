"""What is understood of a text, over the invented catalogue: spans, words that read back, masking, amendments."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from catalog.resolve.answering.understood import BLANK
from catalog.services.reading import read_description
from tests.integration.api_demo import demo_app
from tests.integration.test_api import check

pytestmark = pytest.mark.usefixtures("served_demo")

TEXT = "white van, no smoke, port left rear, zorble, ring Dave Wetherby on 07700 900123, hit by a blue bus"
READINGS = Path(__file__).parents[1] / "eval" / "readings"


@cache
def client() -> FlaskClient:
    return demo_app().test_client()


def post(operation: str, body: dict[str, Any]) -> Any:
    response = client().post(f"/api/v1/{operation}", json=body)
    assert response.status_code == 200, response.get_data(as_text=True)
    return response.get_json()


def key(cue: dict[str, Any]) -> dict[str, Any]:
    return {name: cue[name] for name in ("attribute", "values", "denied", "vehicle")}


def test_each_cue_says_where_it_was_said_and_how() -> None:
    answer = post("read", {"text": TEXT})
    check("Read", answer)
    said = {(cue["label"], cue["vehicle"], cue["denied"]) for cue in answer["cues"]}
    assert said >= {
        ("body van", "A", False),
        ("charge port left rear", "A", False),
        ("not scene smoke", "A", True),
        ("other vehicle body bus", "B", False),
    }
    for cue in answer["cues"]:
        assert cue["heard"] == " … ".join(TEXT[span["start"] : span["end"]] for span in cue["spans"])
    assert answer["scene"]["smoke"] == "no"
    assert [TEXT[span["start"] : span["end"]] for span in answer["unread"]][:1] == ["zorble"]


def test_numbers_and_names_are_blanked_in_what_is_sent_back_and_spans_hold() -> None:
    answer = post("read", {"text": TEXT})
    assert len(answer["text"]) == len(TEXT)
    assert "900123" not in json.dumps(answer)
    assert any(TEXT[span["start"] : span["end"]] == "07700 900123" for span in answer["masked"])
    for span in answer["masked"]:
        assert set(answer["text"][span["start"] : span["end"]]) == {BLANK}
    resolved = post("resolve", {"text": TEXT, "include": ["why", "facts", "groups"]})
    assert "900123" not in json.dumps(resolved)
    assert resolved["masked"] == answer["masked"]
    # Sent again as it came back, what is blanked stays masked and nobody's unread word.
    again = post("read", {"text": answer["text"]})
    assert again["masked"] == answer["masked"]
    assert (again["cues"], again["unread"]) == (answer["cues"], answer["unread"])


def test_the_words_of_a_cue_read_back_to_the_same_cue() -> None:
    for cue in post("read", {"text": TEXT + ", 4 doors, dial to select, maybe 2019 to 2021"})["cues"]:
        back = post("read", {"text": cue["wording"]})["cues"]
        assert key(cue) in [key(other) for other in back], cue["wording"]


def test_a_cue_is_struck_out_and_another_put_right_by_their_keys() -> None:
    plain = post("resolve", {"text": TEXT})
    van = next(key(cue) for cue in plain["cues"] if cue["label"] == "body van")
    port = next(key(cue) for cue in plain["cues"] if cue["attribute"] == "port_place")
    body = {"text": TEXT, "struck": [port], "cues": [{"attribute": "body", "values": ["pickup"], "instead_of": van}]}
    answer = post("resolve", body)
    check("Resolve", answer)
    assert [(cue["label"], cue["origin"], cue["instead_of"]) for cue in answer["cues"] if cue["origin"] != "read"] == [
        ("body pickup", "corrected", van)
    ]
    assert [key(cue) for cue in answer["struck"]] == [port]
    assert "pickup" in answer["candidates"][0]["subtitle"]
    assert answer["candidates"] == post("resolve", {"text": "white pickup"})["candidates"]
    assert post("read", body)["cues"] == answer["cues"]


def test_amendments_hold_while_the_text_goes_on_and_idle_ones_are_told() -> None:
    struck = [{"attribute": "body", "values": ["van"]}]
    assert post("read", {"text": "white van, left rear, badge says Kelvik", "struck": struck})["struck"]
    assert post("read", {"text": "white pickup", "struck": struck})["warnings"] == [
        "One thing struck out or put right here is not read in this text any more: it changes nothing."
    ]


def test_cues_alone_are_weighed_as_the_same_cues_in_a_text() -> None:
    cues = [{"attribute": "body", "values": ["pickup"]}, {"attribute": "port_place", "values": ["left|rear|"]}]
    assert (
        post("resolve", {"cues": cues})["candidates"]
        == post("resolve", {"text": "pickup, port left rear"})["candidates"]
    )


def test_of_a_vin_only_the_vehicle_part_is_sent_and_enough_to_strike_it_out() -> None:
    text = "vin is X9QABC12DEF004421"
    [cue] = post("read", {"text": text})["cues"]
    assert "4421" not in json.dumps({**cue, "spans": []})
    assert post("read", {"text": text, "struck": [key(cue)]})["cues"] == []


def test_nothing_masked_is_ever_sent_back() -> None:
    """Over the annotated descriptions for development."""
    house = demo_app().extensions["chockbook"]
    seen = 0
    for file in sorted(READINGS.glob("*.jsonl")):
        for line in file.read_text("utf-8").splitlines():
            text = json.loads(line)["text"]
            view = read_description(house, text)
            assert len(view.text) == len(text)
            for span in view.masked:
                seen += 1
                part = text[span.start : span.end]
                assert part not in view.text or set(part) == {BLANK}
                assert all(
                    other.end <= span.start or span.end <= other.start for cue in view.cues for other in cue.cue.spans
                )
    assert seen > 20


@pytest.mark.parametrize("operation", ["read", "resolve"])
def test_nothing_of_the_text_is_logged(operation: str, capsys: pytest.CaptureFixture[str]) -> None:
    post(operation, {"text": TEXT})
    client().post(f"/api/v1/{operation}", json={"text": TEXT, "cues": [{"attribute": "body", "values": ["zorble"]}]})
    told = "".join(capsys.readouterr())
    assert "zorble" not in told
    assert "Wetherby" not in told
