"""The API over the invented catalogue: documented answers, agreement between addresses, editions."""

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from jsonschema import Draft202012Validator

from tests.integration.api_demo import app_without_database, demo_app

pytestmark = pytest.mark.usefixtures("served_demo")

API = "/api/v1"


@cache
def client() -> FlaskClient:
    return demo_app().test_client()


def get(path: str) -> Any:
    response = client().get(API + path)
    assert response.status_code == 200, response.get_data(as_text=True)
    return response.get_json()


def resolve(text: str, **more: Any) -> Any:
    response = client().post(f"{API}/resolve", json={"text": text, **more})
    assert response.status_code == 200, response.get_data(as_text=True)
    return response.get_json()


@cache
def document() -> Any:
    return get("/openapi.json")


@cache
def documented(name: str) -> Draft202012Validator:
    root = {"$ref": f"#/components/schemas/{name}", "components": document()["components"]}
    return Draft202012Validator(root, format_checker=Draft202012Validator.FORMAT_CHECKER)


def check(name: str, answer: Any) -> None:
    documented(name).validate(answer)


def codes() -> list[str]:
    return [entry["code"] for entry in get("/records?limit=500")["records"]]


def test_every_record_of_every_edition_is_as_documented() -> None:
    """Of the editions before the newest, the records that changed since, and one in five of the others."""
    seen = set()  # a revision's text is the same in every edition that lists it
    numbers = sorted(edition["number"] for edition in get("/editions")["editions"])
    for number in numbers:
        listed = get(f"/records?edition={number}&limit=500")
        check("Records", listed)
        changed = {each["key"] for each in get(f"/editions/{number}/changes?to={numbers[-1]}&limit=500")["changes"]}
        for place, entry in enumerate(listed["records"]):
            if number != numbers[-1] and entry["code"] not in changed and place % 5:
                continue
            record = get(f"/records/{entry['code']}?edition={number}")
            if (record["revision"]["hash"], record["withdrawn"]) not in seen:
                check("Record", record)
            seen.add((record["revision"]["hash"], record["withdrawn"]))
            assert (record["edition"]["number"], record["withdrawn"]) == (number, entry["withdrawn"])
            assert record["identity"]["title"] == entry["title"]


def test_histories_changes_and_sources_are_as_documented() -> None:
    check("Editions", get("/editions"))
    numbers = sorted(edition["number"] for edition in get("/editions")["editions"])
    for a in numbers:
        for b in numbers:
            check("Changes", get(f"/editions/{a}/changes?to={b}&limit=500"))
    cited = set()
    listed = codes()
    changed = {each["key"] for each in get(f"/editions/{numbers[0]}/changes?to={numbers[-1]}&limit=500")["changes"]}
    for code in {*listed[::5], *changed.intersection(listed)}:
        check("History", get(f"/records/{code}/history"))
        cited |= {entry["key"] for entry in get(f"/records/{code}")["identity"]["src"]}
    assert cited
    for key in cited:
        check("Source", get(f"/sources/{key}"))
    check("Find", get("/find?q=cut+loop"))
    assert get("/find?q=cut+loop")["total"] > 0


def test_a_change_agrees_with_both_records() -> None:
    """The old and new fact of a change are what the two editions' records say."""
    seen = 0
    for change in get("/editions/1/changes?to=2&limit=500")["changes"]:
        for fact in (change["changes"] or {"facts": []})["facts"]:
            for side, number in (("old", 1), ("new", 2)):
                record = get(f"/records/{change['key']}?edition={number}")
                assert _at(record, fact["path"]) == fact[side], fact["path"]
                seen += 1
    assert seen >= 4


def _at(record: Any, path: str) -> Any:
    node = record
    for part in path.split("."):
        name, _, item = part.partition("[")
        node = node[name]
        if item:
            node = next(entry for entry in node if entry["id"] == item.rstrip("]"))
    return node


def test_at_an_instant_is_the_edition_published_by_then() -> None:
    first, second, *_ = sorted(get("/editions")["editions"], key=lambda edition: edition["number"])
    code = get("/records?edition=1")["records"][0]["code"]
    assert get(f"/records/{code}?at={first['published_at']}")["edition"]["number"] == 1
    assert get(f"/records/{code}?at={second['published_at']}")["edition"]["number"] == 2
    before = client().get(f"{API}/records/{code}?at=1999-01-01T00:00:00Z")
    assert before.status_code == 404
    assert before.get_json()["cure"]


def test_what_is_fixed_to_an_edition_keeps_its_tag() -> None:
    path = f"{API}/records/{codes()[0]}?edition=1"
    tag = client().get(path).headers["ETag"]
    assert client().get(path, headers={"If-None-Match": tag}).status_code == 304


def test_a_withdrawn_record_is_found_with_its_reason() -> None:
    gone = [entry for entry in get("/records?limit=500")["records"] if entry["withdrawn"]]
    assert gone
    for entry in gone:
        record = get(f"/records/{entry['code']}")
        assert record["withdrawn"] == entry["withdrawn"]
        assert record["cautions"][0].startswith("DO NOT USE this record")


def test_parts_of_the_list_join_into_the_whole() -> None:
    joined, after = [], ""
    while True:
        part = get(f"/records?limit=4{after}")
        joined += part["records"]
        if part["next"] is None:
            break
        after = f"&after={part['next']}"
    assert joined == get("/records?limit=500")["records"]


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("white pickup, port left rear", {"include": ["why"]}),
        ("white pickup, port left rear", {"include": ["facts", "groups"]}),
        ("zzzz qqqq", {"include": ["facts", "groups"]}),
        ("white pickup, port left rear", {"limit": 10**9}),
        ("no idea, maybe a bus or a van", {"driving_side": "right"}),
        ("", {}),
        ("  \n ", {}),
        ("zzzz qqqq", {}),
        ("🚒 pickup, NSR flap", {"limit": 1}),
        ("x" * 2000, {}),
    ],
)
def test_answers_are_as_documented_and_add_up(text: str, more: dict[str, Any]) -> None:
    answer = resolve(text, **more)
    check("Resolve", answer)
    shares = [entry["probability"] for entry in answer["candidates"]]
    assert abs(sum(shares) + answer["others"] + answer["unlisted"]["probability"] - 1) < 1e-9
    assert all(share < 1 for share in shares)
    assert shares == sorted(shares, reverse=True)
    assert bool(answer["message"]) == (not answer["candidates"])
    for cue in answer["cues"]:
        assert all(0 <= span["start"] < span["end"] <= len(text) for span in cue["spans"])


def test_a_limit_beyond_the_catalogue_lists_all() -> None:
    answer = resolve("white pickup, port left rear", limit=10**9)
    assert len(answer["candidates"]) == len(
        [entry for entry in get("/records?limit=500")["records"] if not entry["withdrawn"]]
    )
    assert answer["others_count"] == 0


def test_bits_of_a_candidate_explain_it_only_on_request() -> None:
    plain, full = (resolve("white pickup", include=include) for include in ([], ["why"]))
    assert all("bits" not in entry for entry in plain["candidates"])
    assert all(entry["bits"] for entry in full["candidates"])
    stripped = [{key: value for key, value in entry.items() if key != "bits"} for entry in full["candidates"]]
    assert stripped == plain["candidates"]


def test_facts_and_groups_come_only_on_request_and_add_up() -> None:
    plain, full = (resolve("white pickup", include=include) for include in ([], ["facts", "groups"]))
    assert {key: full[key] for key in plain} == plain
    assert full.keys() - plain.keys() == {"facts", "groups"}
    grouped = sum(group["chance"]["probability"] for group in full["groups"]["groups"])
    assert abs(grouped + full["groups"]["rest"] + full["unlisted"]["probability"] - 1) < 1e-9
    for fact in full["facts"]:
        assert fact["reading"]
        assert (
            fact["lower_bound"]["probability"] + fact["not_stated"]["probability"]
            <= 1 - fact["unlisted"]["probability"] + 1e-9
        )
    nothing = resolve("", include=["facts", "groups"])
    assert (nothing["facts"], nothing["groups"]) == ([], None)


def test_lookalikes_are_as_documented_and_a_caller_stays_away() -> None:
    code = resolve("Muldrake electric pickup")["candidates"][0]["code"]
    caller, crew = (get(f"/records/{code}/lookalikes{query}") for query in ("", "?observer=crew&limit=2"))
    for answer in (caller, crew):
        check("Lookalikes", answer)
        assert answer["lookalikes"]
        assert answer["code"] == code
    assert {sight["where"] for other in caller["lookalikes"] for sight in other["sights"]} == {"from where you stand"}
    assert len({sight["where"] for other in crew["lookalikes"] for sight in other["sights"]}) > 1
    assert len(crew["lookalikes"]) <= 2


def test_lookalikes_of_what_must_not_be_used_say_so() -> None:
    gone = next(entry["code"] for entry in get("/records?limit=500")["records"] if entry["withdrawn"])
    for code, words in ((gone, "DO NOT USE"), ("ZZZ-ZZQ", "code")):
        refused = client().get(f"{API}/records/{code}/lookalikes")
        assert refused.status_code == 404
        assert words in refused.get_json()["detail"]
    assert client().get(f"{API}/records/{gone}/lookalikes?observer=nobody").status_code == 400


def test_pages_and_api_each_answer_their_own_errors() -> None:
    assert client().get("/api/v1/nothing").mimetype == "application/problem+json"
    assert client().get("/nothing-here").mimetype == "text/html"


def test_the_docs_page_shows_the_running_catalogue() -> None:
    page = client().get(f"{API}/docs").get_data(as_text=True)
    assert page.count("What this catalogue answers now") == page.count("Example request")
    assert codes()[0] in page
    assert "there is no example" not in page


def test_reading_the_newest_edition_goes_on_without_the_database(tmp_path: Path) -> None:
    away = app_without_database(tmp_path).test_client()
    code = next(entry["code"] for entry in get("/records?limit=500")["records"] if not entry["withdrawn"])
    assert away.post(f"{API}/resolve", json={"text": "white pickup"}).get_json() == resolve("white pickup")
    assert away.get(f"{API}/records/{code}").get_json() == get(f"/records/{code}")
    assert away.get(f"{API}/find?q=cut+loop").get_json() == get("/find?q=cut+loop")
    assert away.get(f"{API}/schema").status_code == 200
    assert away.get(f"{API}/records?limit=500").get_json() == get("/records?limit=500")
    gone = next(entry["code"] for entry in get("/records?limit=500")["records"] if entry["withdrawn"])
    assert "DO NOT USE" in away.get(f"{API}/records/{gone}").get_json()["detail"]
    for path in ("/editions", f"/records/{code}?edition=1", f"/records/{code}/history", "/editions/1/changes?to=2"):
        response = away.get(API + path)
        assert (response.status_code, int(response.headers["Retry-After"]) > 0) == (503, True)
        assert response.get_json()["type"] == "/api/v1/docs#unavailable"
        assert str(tmp_path) not in response.get_data(as_text=True)
    page = away.get(f"{API}/docs")
    assert page.status_code == 200
    assert "so there is no example" in page.get_data(as_text=True)
