"""Problems, caching, request ids, the log, headers: what holds for every address."""

import json
import re
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from structlog.testing import capture_logs

from catalog.api import problems
from catalog.errors import BadInput, ChockbookError, Conflict, IntegrityError, NotFound, Unavailable
from tests.unit.api_fakes import CODE, make_app, make_client

API = "/api/v1"
SECRET = "grey van by Nowhere Mill, driver is Mr Nobody"


@pytest.mark.parametrize(
    ("error", "status", "slug"),
    [
        (BadInput("a", cure="b"), 400, "bad-input"),
        (NotFound("a", cure="b"), 404, "not-found"),
        (Conflict("a", cure="b"), 409, "conflict"),
        (Unavailable("a", cure="b"), 503, "unavailable"),
        (IntegrityError("a", cure="b"), 500, "integrity"),
        (RuntimeError("a"), 500, "fault"),
        (type("Later", (Unavailable,), {})("a", cure="b"), 503, "unavailable"),
    ],
)
def test_every_error_is_one_problem(monkeypatch: pytest.MonkeyPatch, error: Exception, status: int, slug: str) -> None:
    client, called = make_client(monkeypatch)
    called.raises = error
    response = client.get(f"{API}/records/{CODE}")
    told = response.get_json()
    assert (response.status_code, told["status"], told["type"]) == (status, status, f"/api/v1/docs#{slug}")
    assert response.mimetype == "application/problem+json"
    assert response.headers["Cache-Control"] == "no-store"
    assert ("Retry-After" in response.headers) == (status == 503)
    if isinstance(error, ChockbookError):
        assert (told["detail"], told["cure"]) == ("a", "b")
    else:
        assert "RuntimeError" not in response.get_data(as_text=True)


def test_a_problem_does_not_tell_where_the_data_lies(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    folder = client.application.extensions["chockbook"].settings.data
    called.raises = Unavailable(f"No edition is compiled in {folder}/compiled.", cure="b")
    with capture_logs() as lines:
        detail = client.get(f"{API}/records/{CODE}").get_json()["detail"]
    assert detail == "No edition is compiled in the data folder/compiled."
    assert str(folder) in lines[0]["said"]


def test_every_error_class_is_in_the_table() -> None:
    assert set(problems.OF_ERROR) == set(ChockbookError.__subclasses__()) - {problems.RefusedRequest}


@pytest.mark.parametrize("method", ["DELETE", "PUT", "POST", "PATCH"])
def test_a_wrong_method_keeps_allow(monkeypatch: pytest.MonkeyPatch, method: str) -> None:
    client, _ = make_client(monkeypatch)
    response = client.open(f"{API}/records", method=method)
    assert response.status_code == 405
    assert set(response.headers["Allow"].split(", ")) == {"GET", "HEAD", "OPTIONS"}
    assert "GET" in response.get_json()["cure"]


@pytest.mark.parametrize("path", ["/api/v1/nothing", "/api/v2/records", "/api/", "/api/v1/records/"])
def test_a_wrong_address_is_a_problem_with_the_way_to_the_docs(monkeypatch: pytest.MonkeyPatch, path: str) -> None:
    client, _ = make_client(monkeypatch)
    response = client.get(path)
    assert response.status_code == 404
    assert problems.DOCS in response.get_json()["cure"]
    assert response.get_json()["instance"] == f"{path}#{response.headers['X-Request-Id']}"


def test_pages_keep_their_own_errors_and_never_answer_for_the_api(monkeypatch: pytest.MonkeyPatch) -> None:
    app = make_app()
    for code in (400, 404, 405, 500):
        app.register_error_handler(code, lambda error: ("<p>page</p>", error.code))
    app.register_error_handler(Exception, lambda error: ("<p>page</p>", 500))
    client, called = make_client(monkeypatch, app=app)
    assert client.get("/nothing").get_data(as_text=True) == "<p>page</p>"
    called.raises = RuntimeError("a")
    for response in (
        client.get("/api/v1/nothing"),
        client.delete(f"{API}/records"),
        client.get(f"{API}/records?edition=x"),
        client.get(f"{API}/records/{CODE}"),
        client.post(f"{API}/resolve", data=b"{", content_type="application/json"),
        client.post(f"{API}/resolve", data=b"{}"),
    ):
        assert response.mimetype == "application/problem+json"


def everything_wrong(client: Any, called: Any) -> list[Any]:
    """A response for every kind of problem the API can give."""
    found = [
        client.get(f"{API}/records?edition=x&limt=3"),
        client.get(f"{API}/records/RTV-4BP"),
        client.put(f"{API}/records"),
        client.post(f"{API}/resolve", data=b"x" * 70_000, content_type="application/json"),
        client.post(f"{API}/resolve", data=b"{}"),
        client.post(f"{API}/resolve", json={"limit": 0}),
    ]
    for error in (Conflict("a"), Unavailable("a"), IntegrityError("a"), RuntimeError("a")):
        called.raises = error
        found.append(client.get(f"{API}/records/{CODE}"))
    return found


def test_every_problem_is_what_the_document_says(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    document = client.get(f"{API}/openapi.json").get_json()
    schema = {"$ref": "#/components/schemas/Problem", "components": document["components"]}
    found = everything_wrong(client, called)
    assert {response.status_code for response in found} == {400, 404, 405, 409, 413, 415, 500, 503}
    for response in found:
        Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER).validate(response.get_json())
    # And not because the schema lets everything through: it closes the object.
    assert list(Draft202012Validator(schema).iter_errors({**found[0].get_json(), "code": 400}))
    del document["components"]["schemas"]["Problem"]["properties"]["cure"]
    assert list(Draft202012Validator(schema).iter_errors(found[0].get_json()))


def test_every_problem_kind_has_its_place_on_the_docs_page(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    page = client.get(problems.DOCS).get_data(as_text=True)
    for response in everything_wrong(client, called):
        anchor = response.get_json()["type"].removeprefix(f"{problems.DOCS}#")
        assert f'id="{anchor}"' in page


CACHED = (
    (f"/records/{CODE}?edition=2", "public, max-age=3600"),
    ("/records?edition=2", "public, max-age=3600"),
    ("/editions/1/changes?to=2", "public, max-age=3600"),
    (f"/records/{CODE}", "no-cache"),
    (f"/records/{CODE}?at=2026-02-03T10:00:00Z", "no-cache"),
    ("/records", "no-cache"),
    (f"/records/{CODE}/history", "no-cache"),
    ("/editions", "no-cache"),
    ("/find?q=cut", "no-cache"),
    ("/sources/AB-1/2", "no-cache"),
    ("/schema", "no-cache"),
    ("/openapi.json", "no-cache"),
    ("/docs", "no-cache"),
    ("/docs.css", "no-cache"),
)


@pytest.mark.parametrize(("path", "policy"), CACHED)
def test_what_may_be_kept_has_a_tag_that_gives_304(monkeypatch: pytest.MonkeyPatch, path: str, policy: str) -> None:
    client, _ = make_client(monkeypatch)
    first = client.get(API + path)
    assert (first.status_code, first.headers["Cache-Control"]) == (200, policy)
    tag = first.headers["ETag"]
    assert re.fullmatch(r'"[0-9a-f]{32}"', tag)
    again = client.get(API + path, headers={"If-None-Match": f'"other", {tag}'})
    assert (again.status_code, again.data, again.headers["ETag"]) == (304, b"", tag)
    assert again.headers["Cache-Control"] == policy
    assert client.get(API + path, headers={"If-None-Match": '"other"'}).status_code == 200
    assert client.head(API + path).headers["ETag"] == tag


def test_the_tag_changes_with_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    def tag(path: str, **more: Any) -> str:
        client, _ = make_client(monkeypatch, **more)
        return str(client.get(API + path).headers["ETag"])

    assert tag(f"/records/{CODE}?edition=2") != tag(f"/records/{CODE}?edition=1")
    assert tag(f"/records/{CODE}?edition=2") != tag(f"/records/{CODE}?edition=2", demo=False)
    assert tag("/records?limit=1") != tag("/records")


def test_every_answer_names_its_edition(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    found = {path: client.get(API + path).headers["Chockbook-Edition"] for path, _ in CACHED[:11]}
    assert found.pop(f"/records/{CODE}?edition=2") == "2"
    assert found.pop("/records?edition=2") == "2"
    assert found.pop("/editions/1/changes?to=2") == "2"
    assert set(found.values()) == {"3"}


def test_a_good_request_id_is_kept_and_another_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)

    def sent(value: str | None) -> str:
        headers = {} if value is None else {"X-Request-Id": value}
        return str(client.get(f"{API}/records/x", headers=headers).headers["X-Request-Id"])

    assert sent("desk-4.call_17") == "desk-4.call_17"
    for bad in (None, "", "short", "a" * 65, "has spaces in it", "é" * 10, "<script>alert(1)</script>"):
        assert re.fullmatch(r"[0-9a-f-]{36}", sent(bad))
    assert sent(None) != sent(None)


def test_the_problem_and_the_log_share_the_request_id(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    called.raises = RuntimeError(SECRET)
    with capture_logs() as lines:
        response = client.get(f"{API}/records/{CODE}", headers={"X-Request-Id": "incident-81"})
    assert response.get_json()["request"] == "incident-81"
    assert [(line["event"], line["request_id"]) for line in lines] == [
        ("failure", "incident-81"), ("request", "incident-81"),
    ]  # fmt: skip
    assert any("api_fakes.py" in frame for frame in lines[0]["frames"])


def test_the_log_has_the_rule_and_nothing_that_was_sent(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    with capture_logs() as lines:
        client.post(f"{API}/resolve", json={"text": SECRET})
        client.post(f"{API}/resolve", json={"text": SECRET, SECRET: 1})
        client.post(f"{API}/resolve", data=json.dumps({"text": SECRET})[:-3], content_type="application/json")
        client.get(f"{API}/find", query_string={"q": SECRET})
        client.get(f"{API}/records/{SECRET}")
        client.get(f"/api/{SECRET}")
        called.raises = RuntimeError(SECRET)
        client.post(f"{API}/resolve", json={"text": SECRET})
    assert SECRET not in repr(lines)
    assert "Nowhere" not in repr(lines)
    requests = [line for line in lines if line["event"] == "request"]
    assert [(line["method"], line["rule"], line["status"], line["edition"]) for line in requests] == [
        ("POST", "/api/v1/resolve", 200, 3),
        ("POST", "/api/v1/resolve", 400, None),
        ("POST", "/api/v1/resolve", 400, None),
        ("GET", "/api/v1/find", 200, 3),
        ("GET", "/api/v1/records/<code>", 404, None),
        ("GET", "none", 404, None),
        ("POST", "/api/v1/resolve", 500, None),
    ]
    assert all(line["ms"] >= 0 for line in requests)


def test_problems_never_repeat_a_description(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    bodies = [
        {"text": SECRET * 100},
        {"text": SECRET, "limit": 0},
        {"text": [SECRET]},
        {"text": "van", "driving_side": SECRET},
        {"text": "van", "include": [SECRET]},
    ]
    for body in bodies:
        response = client.post(f"{API}/resolve", json=body)
        assert (response.status_code, "Nowhere" in response.get_data(as_text=True)) == (400, False)
    called.raises = RuntimeError(SECRET)
    assert b"Nowhere" not in client.post(f"{API}/resolve", json={"text": SECRET}).data


def test_plain_headers_are_on_everything_under_api_and_nowhere_else(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    for path in ("/api/v1/records", "/api/v1/nothing", "/api/v1/docs"):
        headers = client.get(path).headers
        assert (headers["X-Content-Type-Options"], headers["Referrer-Policy"]) == ("nosniff", "no-referrer")
    page = client.get("/nothing").headers
    assert "X-Request-Id" not in page
    assert "Referrer-Policy" not in page
