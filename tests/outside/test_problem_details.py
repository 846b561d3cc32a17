"""Problems against RFC 9457, Problem Details for HTTP APIs (July 2023), read as published.

The rules are given by section beside each check.
"""

import re
from typing import Any
from urllib.parse import urlsplit

import pytest

from catalog.errors import Conflict, IntegrityError, Unavailable
from tests.unit.api_fakes import CODE, make_client

API = "/api/v1"
# Section 3.1: the members the RFC defines.
MEMBERS = {"type": str, "status": int, "title": str, "detail": str, "instance": str}


@pytest.fixture
def problems(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    client, called = make_client(monkeypatch)
    found = [
        client.get(f"{API}/records?edition=x"),
        client.get(f"{API}/records/RTV-4BP"),
        client.get("/api/v1/no such address/ä?q=1"),
        client.delete(f"{API}/editions"),
        client.post(f"{API}/resolve", data=b"{}"),
        client.post(f"{API}/resolve", data=b"x" * 70_000, content_type="application/json"),
        client.post(f"{API}/resolve", json={"text": 1, "limt": 2}),
    ]
    for error in (Conflict("a"), Unavailable("a"), IntegrityError("a"), RuntimeError("a")):
        called.raises = error
        found.append(client.get(f"{API}/records/{CODE}"))
    return found


def test_the_media_type_is_the_registered_one(problems: list[Any]) -> None:
    # Section 3: "the 'application/problem+json' media type"; section 6.1 registers it without parameters.
    assert {response.headers["Content-Type"] for response in problems} == {"application/problem+json"}


def test_members_have_the_types_the_rfc_gives_them(problems: list[Any]) -> None:
    # Section 3.1: consumers MUST ignore a member whose value type does not match the specified one.
    for response in problems:
        told = response.get_json()
        assert {name: type(told[name]) for name in MEMBERS} == MEMBERS


def test_status_is_the_status_of_the_response(problems: list[Any]) -> None:
    # Section 3.1.2: "Generators MUST use the same status code in the actual HTTP response".
    assert all(response.get_json()["status"] == response.status_code for response in problems)


def test_type_and_instance_are_uri_references_that_resolve_alike_everywhere(problems: list[Any]) -> None:
    # Section 3.1.1 and 3.1.5: URI references; relative ones SHOULD hold the full path. RFC 3986 2: the characters.
    for response in problems:
        for member in ("type", "instance"):
            text = response.get_json()[member]
            assert re.fullmatch(r"(?:[A-Za-z0-9._~:/?#\[\]@!$&'()*+,;=-]|%[0-9A-F]{2})+", text), text
            assert text.startswith("/")
            assert not urlsplit(text).query


def test_the_title_stays_the_same_for_a_type(problems: list[Any]) -> None:
    # Section 3.1.3: title "SHOULD NOT change from occurrence to occurrence of the problem".
    titles: dict[str, set[str]] = {}
    for response in problems:
        told = response.get_json()
        titles.setdefault(told["type"], set()).add(told["title"])
    assert len(titles) >= 8
    assert all(len(found) == 1 for found in titles.values())


def test_the_detail_helps_and_does_not_debug(problems: list[Any]) -> None:
    # Section 3.1.4: detail "ought to focus on helping the client correct the problem, rather than giving
    # debugging information"; section 5: stack dumps are no part of a problem.
    for response in problems:
        text = response.get_data(as_text=True)
        assert "Traceback" not in text
        assert ".py" not in text
        assert response.get_json()["detail"]


def test_extension_members_have_names_that_every_format_can_hold(problems: list[Any]) -> None:
    # Section 4: names SHOULD start with a letter, comprise ALPHA, DIGIT and "_", and be three characters or longer.
    for response in problems:
        for name in set(response.get_json()) - set(MEMBERS):
            assert re.fullmatch(r"[A-Za-z][A-Za-z0-9_]{2,}", name)


def test_a_type_that_says_no_more_than_the_status_is_about_blank(monkeypatch: pytest.MonkeyPatch) -> None:
    # Section 4.2.1: with "about:blank" the title SHOULD be the status phrase.
    from werkzeug.exceptions import Gone

    from catalog.api import problems as table

    told = table.payload(Gone(), "/api/v1/records", "id")
    assert (told["type"], told["title"], told["status"]) == ("about:blank", "Gone", 410)


def test_every_type_leads_to_a_page_that_explains_it(monkeypatch: pytest.MonkeyPatch, problems: list[Any]) -> None:
    # Section 3.1.1: dereferencing the type SHOULD give documentation; section 4: it MUST document type, title, status.
    client, _ = make_client(monkeypatch)
    for told in (response.get_json() for response in problems):
        path, anchor = told["type"].split("#")
        page = client.get(path)
        assert page.mimetype == "text/html"
        row = re.search(rf'<tr id="{anchor}">.*?</tr>', page.get_data(as_text=True), re.DOTALL)
        assert row is not None
        assert told["title"] in row[0]
        assert str(told["status"]) in row[0]


def test_the_instance_is_one_occurrence(problems: list[Any]) -> None:
    # Section 3.1.5: it identifies the specific occurrence.
    found = [response.get_json()["instance"] for response in problems]
    assert len(set(found)) == len(found)
