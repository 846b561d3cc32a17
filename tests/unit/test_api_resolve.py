"""POST /resolve over fake services."""

from typing import Any

import pytest

from tests.unit.api_fakes import CODE, make_client

URL = "/api/v1/resolve"


def post(monkeypatch: pytest.MonkeyPatch, body: Any) -> Any:
    client, _ = make_client(monkeypatch)
    return client.post(URL, json=body)


def test_an_answer_has_every_part(monkeypatch: pytest.MonkeyPatch) -> None:
    answer = post(monkeypatch, {"text": "white pickup"}).get_json()
    assert answer["edition"] == {"number": 3, "hash": "3" * 64, "published_at": "2026-03-02T09:30:00Z"}
    assert answer["cues"] == [
        {
            "attribute": "body",
            "values": ["pickup"],
            "label": "body pickup",
            "denied": False,
            "doubt": "hedged",
            "spans": [{"start": 6, "end": 12}],
            "heard": "pickup",
            "ranks": True,
            "note": "",
            "wording": "maybe pickup",
            "viewpoint": "",
            "vehicle": "A",
            "origin": "read",
            "instead_of": None,
        }
    ]
    assert (answer["struck"], answer["masked"], answer["scene"]) == ([], [], {})
    assert answer["unread"] == [{"start": 0, "end": 5}]
    assert answer["candidates"][0] == {
        "code": CODE,
        "title": "Ondal Tarrow",
        "subtitle": "2021 on, pickup",
        "probability": 0.7,
        "word": "likely",
        "frequency": "about 7 in 10",
        "why": "w",
        "doubts": [],
    }
    assert (answer["others"], answer["others_count"]) == (0.05, 12)
    assert answer["unlisted"] == {"probability": 0.15, "band": "possible", "frequency": "about 2 in 10"}
    assert answer["calibration_state"] == "expert"
    assert (answer["calibration"], answer["message"], answer["driving_side"]) == ("expert", "", "left")


def test_shares_add_up_to_one(monkeypatch: pytest.MonkeyPatch) -> None:
    answer = post(monkeypatch, {"text": "white pickup"}).get_json()
    total = sum(entry["probability"] for entry in answer["candidates"])
    assert abs(total + answer["others"] + answer["unlisted"]["probability"] - 1) < 1e-9


def test_bits_come_only_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = post(monkeypatch, {"text": "van"}).get_json()
    assert all("bits" not in entry for entry in plain["candidates"])
    full = post(monkeypatch, {"text": "van", "include": ["why"]}).get_json()
    assert full["candidates"][0]["bits"][1] == {"label": "body pickup", "bits": 1.5}


def test_cautions_say_demo_edition_confirm_and_likely(monkeypatch: pytest.MonkeyPatch) -> None:
    told = " ".join(post(monkeypatch, {"text": "van"}).get_json()["cautions"])
    for words in ("DEMO", "edition 3", "Confirm the vehicle", "seated facing forward", "likely match is not a certain"):
        assert words in told
    real, _ = make_client(monkeypatch, demo=False)
    assert "DEMO" not in real.post(URL, json={"text": "van"}).get_data(as_text=True)


def test_the_request_reaches_the_service_as_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    client.post(URL, json={"text": " ute ", "limit": 2, "driving_side": "right", "include": ["why", "why"]})
    client.post(URL, json={"text": ""})
    first, second = called.descriptions
    assert (first.text, first.limit, first.driving_side, first.include) == (" ute ", 2, "right", frozenset({"why"}))
    assert (second.text, second.limit, second.driving_side, second.include) == ("", 10, None, frozenset())


def test_answers_are_never_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    response = post(monkeypatch, {"text": "van"})
    assert response.headers["Cache-Control"] == "no-store"
    assert "ETag" not in response.headers
    assert response.headers["Chockbook-Edition"] == "3"


@pytest.mark.parametrize(
    ("body", "status", "slug"),
    [
        ({"text": "x" * 2001}, 400, "bad-input"),
        ({"text": None}, 400, "bad-input"),
        ([], 400, "bad-input"),
        ("van", 400, "bad-input"),
        (7, 400, "bad-input"),
        ({"text": "van", "limit": 0}, 400, "bad-input"),
        ({"text": "x" * 70_000}, 413, "too-large"),
    ],
)
def test_what_does_not_fit_is_a_problem(monkeypatch: pytest.MonkeyPatch, body: Any, status: int, slug: str) -> None:
    response = post(monkeypatch, body)
    assert response.status_code == status
    assert response.mimetype == "application/problem+json"
    assert response.get_json()["type"] == f"/api/v1/docs#{slug}"
    assert response.get_json()["cure"]


def test_a_problem_with_several_fields_lists_each(monkeypatch: pytest.MonkeyPatch) -> None:
    told = post(monkeypatch, {"text": 5, "limt": 3, "driving_side": "up"}).get_json()
    assert {(entry["where"], entry["path"]) for entry in told["errors"]} == {
        ("body", "text"), ("body", "limt"), ("body", "driving_side"),
    }  # fmt: skip
    assert told["detail"] == "3 things in the body are wrong."


def test_broken_json_says_where(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    response = client.post(URL, data=b'{"text": "secret words', content_type="application/json")
    assert response.status_code == 400
    assert "line 1" in response.get_json()["detail"]
    assert b"secret" not in response.data
    assert client.post(URL, data=b'{"text": "\xff"}', content_type="application/json").status_code == 400


def test_a_body_that_is_not_declared_json_is_415(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    for sent in ({"data": {"text": "van"}}, {"data": b"van", "content_type": "text/plain"}, {}):
        response = client.post(URL, **sent)
        assert response.status_code == 415
        assert "application/json" in response.get_json()["cure"]


def test_a_query_string_is_refused_so_that_no_description_ends_up_in_one(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    response = client.post(f"{URL}?text=van", json={"text": "van"})
    assert response.status_code == 400
    assert called.descriptions == []
