"""Reading records, history, editions, sources and text over fake services."""

from datetime import UTC, datetime

import pytest

from catalog.services import records
from tests.unit.api_fakes import CODE, EDITIONS, KEY, OTHER, make_client, record_view

API = "/api/v1"


def test_a_record_has_its_edition_revision_and_every_section(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    answer = client.get(f"{API}/records/{CODE}").get_json()
    assert list(answer)[:9] == [
        "code", "edition", "latest", "revision", "withdrawn", "doubts", "format", "identity", "looks",
    ]  # fmt: skip
    assert (answer["code"], answer["edition"]["number"], answer["latest"]) == (CODE, 3, 3)
    assert answer["revision"] == {"seq": 2, "hash": "c" * 64}
    place = answer["ports"][0]["place"]
    assert (place["state"], place["value"]) == (
        "stated",
        {"side": "left", "end": "rear_quarter", "level": "mid"},
    )
    assert answer["energy"]["pyro_fuse"]["fitted"]["state"] == "not_fitted"
    assert answer["motion"]["selector"]["state"] == "not_stated"
    assert "value" not in answer["motion"]["selector"]


@pytest.mark.parametrize("spelt", ["QK7-M3M", "qk7m3m", "QK7%20M3M", "qk7–m3m"])
def test_a_code_may_be_spelt_freely(monkeypatch: pytest.MonkeyPatch, spelt: str) -> None:
    client, called = make_client(monkeypatch)
    assert client.get(f"{API}/records/{spelt}").status_code == 200
    assert called.asked == [(CODE, None, None)]


@pytest.mark.parametrize("spelt", ["QK7-M3V", "ABCDEF", "x", "QK7-M3MT"])
def test_a_code_that_cannot_be_says_check_the_code(monkeypatch: pytest.MonkeyPatch, spelt: str) -> None:
    client, called = make_client(monkeypatch)
    response = client.get(f"{API}/records/{spelt}")
    assert response.status_code == 404
    assert response.get_json()["cure"].startswith("Check the code")
    assert called.asked == []


def test_edition_and_time_reach_the_service(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    client.get(f"{API}/records/{CODE}?edition=2")
    client.get(f"{API}/records/{CODE}?at=2026-02-03T10:00:00%2B01:00")
    assert called.asked == [(CODE, 2, None), (CODE, None, datetime(2026, 2, 3, 9, tzinfo=UTC))]


@pytest.mark.parametrize(
    "query",
    ["at=2026-02-03T10:00:00", "at=2026-02-03T10:00:00+01:00", "at=x", "edition=x", "edition=0", "editon=2",
     "edition=1&edition=2", "edition=1&at=2026-02-03T10:00:00Z", "edition="],
)  # fmt: skip
def test_a_state_that_is_not_clear_is_refused(monkeypatch: pytest.MonkeyPatch, query: str) -> None:
    client, called = make_client(monkeypatch)
    response = client.get(f"{API}/records/{CODE}?{query}")
    assert response.status_code == 400
    assert response.get_json()["cure"]
    assert called.asked == []


def test_a_withdrawn_record_says_so_first(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    monkeypatch.setattr(records, "read_record", lambda *args, **more: record_view(EDITIONS[2], "wrong cut point"))
    answer = client.get(f"{API}/records/{CODE}").get_json()
    assert answer["withdrawn"] == "wrong cut point"
    assert answer["cautions"][0] == "DO NOT USE this record: wrong cut point"


def test_records_come_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    first = client.get(f"{API}/records?limit=1").get_json()
    assert ([entry["code"] for entry in first["records"]], first["next"], first["total"]) == ([CODE], CODE, 2)
    second = client.get(f"{API}/records?limit=1&after={first['next']}").get_json()
    assert second["next"] is None
    assert second["records"][0] == {
        "code": OTHER,
        "title": "Ondal Kes",
        "subtitle": "2019 on",
        "withdrawn": "wrong cut point",
    }
    assert client.get(f"{API}/records?after=nonsense").status_code == 404


def test_an_edition_that_is_not_there_is_404(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    for address in ("records?edition=9", "editions/1/changes?to=9", "editions/9/changes?to=1"):
        response = client.get(f"{API}/{address}")
        assert response.status_code == 404, address
        assert "The newest is 3" in response.get_json()["cure"]


def test_history_tells_each_revision(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    answer = client.get(f"{API}/records/{CODE}/history").get_json()
    [revision] = answer["revisions"]
    assert revision["editions"] == [{"from": 2, "to": None}]
    assert revision["time"] == "2026-02-02T09:30:00.000005Z"
    [fact] = revision["changes"]["facts"]
    assert (fact["path"], fact["old"]["state"], fact["new"]["value"]["side"]) == (
        "ports[a].place", "not_stated", "left",
    )  # fmt: skip
    assert fact["new"]["src"][0]["title"] == "Guide"
    assert revision["changes"]["plain"] == [{"path": "identity.years", "old": "2020 on", "new": "2021 on"}]


def test_changes_name_both_editions(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    answer = client.get(f"{API}/editions/1/changes?to=2").get_json()
    assert (answer["from"]["number"], answer["to"]["number"]) == (1, 2)
    assert [(entry["kind"], entry["action"], entry["changes"] is None) for entry in answer["changes"]] == [
        ("record", "changed", False),
        ("source", "added", True),
    ]
    assert client.get(f"{API}/editions/1/changes").status_code == 400
    assert client.get(f"{API}/editions/x/changes?to=2").status_code == 404
    assert client.get(f"{API}/editions/{2**63}/changes?to=2").status_code == 404


def test_editions_are_newest_first(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    answer = client.get(f"{API}/editions").get_json()
    assert [entry["number"] for entry in answer["editions"]] == [3, 2, 1]
    assert answer["editions"][0]["reason"] == "edition 3"


def test_hits_come_in_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    answer = client.get(f"{API}/find?q=cut+twice").get_json()
    assert (answer["total"], answer["hits"][0]["page"]) == (7, 3)
    assert answer["hits"][0]["snippet"] == [{"text": "cut ", "match": False}, {"text": "twice", "match": True}]
    assert client.get(f"{API}/find").status_code == 400
    assert client.get(f"{API}/find?q=").status_code == 400


def test_a_source_by_number_and_issue(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    answer = client.get(f"{API}/sources/{KEY.lower()}").get_json()
    assert (answer["key"], answer["issue"], answer["sections"][0]["page"]) == (KEY, 2, 3)
    assert client.get(f"{API}/sources/AB-1/x").status_code == 404


def test_the_record_schema_is_served(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    response = client.get(f"{API}/schema")
    assert response.mimetype == "application/schema+json"
    assert response.get_json()["$schema"] == "https://json-schema.org/draft/2020-12/schema"
