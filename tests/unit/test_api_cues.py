"""Cues sent back to the API: what reaches the service, and what is refused with the place and the cure."""

from typing import Any

import pytest

from catalog.resolve.amending import Given
from catalog.resolve.cue import Cue, Doubt
from tests.unit.api_fakes import make_client

URL = "/api/v1/resolve"


def refusal(monkeypatch: pytest.MonkeyPatch, body: Any) -> dict[str, str]:
    client, called = make_client(monkeypatch)
    response = client.post(URL, json=body)
    assert response.status_code == 400
    assert called.descriptions == []
    [one] = response.get_json()["errors"]
    return {key: one[key] for key in ("path", "detail", "cure")}


def test_cues_and_what_is_struck_out_reach_the_service(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    key = {"attribute": "body", "values": ["van"], "denied": True, "vehicle": "B"}
    cue = {"attribute": "name", "values": ["Melo-X", "Melo-X", "*O"], "doubt": "guess", "instead_of": key}
    assert client.post(URL, json={"cues": [cue], "struck": [key]}).status_code == 200
    [description] = called.descriptions
    assert description.text == ""
    wanted = Cue("name", ("*o", "melo x"), (), "*o or melo x", doubt=Doubt.GUESS)
    assert description.amendments.cues == (Given(wanted, ("body", ("van",), True, "B")),)
    assert description.amendments.struck == (("body", ("van",), True, "B"),)


def test_a_value_nobody_knows_is_named_with_what_is_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    told = refusal(monkeypatch, {"text": "", "cues": [{"attribute": "body", "values": ["van", "pikup"]}]})
    assert told["path"] == "cues[0].values[1]"
    assert told["detail"] == "'pikup' is no value of body."
    assert told["cure"].startswith("Did you mean pickup? Give one of: hatchback, saloon")


def test_an_attribute_nobody_knows_is_named_with_what_is_allowed(monkeypatch: pytest.MonkeyPatch) -> None:
    told = refusal(monkeypatch, {"struck": [{"attribute": "boddy", "values": ["van"]}]})
    assert (told["path"], told["detail"]) == ("struck[0].attribute", "'boddy' is not known here.")
    assert told["cure"].startswith("Did you mean body? Use one of: body, size")


@pytest.mark.parametrize(
    ("cue", "path", "words"),
    [
        ({"values": ["van"]}, "cues[0].attribute", "Missing."),
        ({"attribute": "body", "values": []}, "cues[0].values", "Must hold 1 to 24 values."),
        ({"attribute": "body", "values": ["van"], "denied": 1}, "cues[0].denied", "Not true or false."),
        ({"attribute": "body", "values": ["van"], "doubt": "firmly"}, "cues[0].doubt", "'firmly' is not known here."),
        ({"attribute": "body", "value": ["van"]}, None, ""),
        ({"attribute": "years", "values": ["19"]}, "cues[0].values[0]", "'19' is no value of years."),
        ({"attribute": "body", "values": ["van"], "instead_of": None}, "cues[0].instead_of", "Null is not a cue."),
        (
            {"attribute": "body", "values": ["van"], "instead_of": {"attribute": "body", "values": ["\u0000x"]}},
            "cues[0].instead_of.values[0]",
            "'\\x00x' is no value of body.",
        ),
    ],
)
def test_what_is_wrong_with_a_cue_is_said_at_its_place(
    monkeypatch: pytest.MonkeyPatch, cue: Any, path: str | None, words: str
) -> None:
    if path is None:
        client, _ = make_client(monkeypatch)
        errors = client.post(URL, json={"cues": [cue]}).get_json()["errors"]
        assert {(e["path"], e["cure"]) for e in errors} >= {("cues[0].value", "Did you mean values?")}
        return
    told = refusal(monkeypatch, {"cues": [cue]})
    assert (told["path"], told["detail"]) == (path, words)
    assert told["cure"]


def test_half_a_surrogate_and_a_flood_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "surrogate" in refusal(monkeypatch, {"cues": [{"attribute": "name", "values": ["\ud800"]}]})["detail"]
    assert refusal(monkeypatch, {"struck": [{"attribute": "body", "values": ["van"]}] * 61})["path"] == "struck"
