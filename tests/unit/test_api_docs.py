"""The docs page: everything on it, nothing from elsewhere, and examples that are true."""

import json
import re
import shlex
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from catalog.api import examples
from catalog.api.operations import OPERATIONS
from catalog.domain import codes
from catalog.errors import Unavailable
from catalog.services import editions
from tests.unit.api_fakes import EDITIONS, make_app, make_client

ROOT = Path(__file__).parents[2]
DOCS = "/api/v1/docs"


class Page(HTMLParser):
    """Tags with their attributes, ids, and the text of every pre."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.pre: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag == "pre":
            self.pre.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag == "pre":
            self.tags.append(("/pre", {}))

    def handle_data(self, data: str) -> None:
        inside = [tag for tag, _ in self.tags if tag in ("pre", "/pre")]
        if inside and inside[-1] == "pre":
            self.pre[-1] += data

    @property
    def ids(self) -> set[str]:
        return {str(attributes["id"]) for _, attributes in self.tags if attributes.get("id")}


@pytest.fixture(scope="module")
def page() -> Page:
    with pytest.MonkeyPatch.context() as patch:
        client, _ = make_client(patch)
        return Page(client.get(DOCS).get_data(as_text=True))


def test_every_operation_has_its_section(page: Page) -> None:
    assert {operation.name for operation in OPERATIONS} <= page.ids


def test_nothing_runs_and_nothing_comes_from_elsewhere(page: Page) -> None:
    assert not [tag for tag, _ in page.tags if tag in ("script", "style", "iframe", "img", "form")]
    addresses = [value for _, attributes in page.tags for key in ("href", "src") if (value := attributes.get(key))]
    assert "docs.css" in addresses
    assert not [address for address in addresses if ":" in address or address.startswith("//")]
    assert not [attributes for _, attributes in page.tags if "style" in attributes or "onclick" in attributes]


def test_every_link_within_the_page_leads_somewhere(page: Page) -> None:
    links = {str(a["href"])[1:] for tag, a in page.tags if tag == "a" and str(a.get("href", "")).startswith("#")}
    assert links
    assert links <= page.ids


def test_the_page_forbids_scripts_and_other_hosts(monkeypatch: pytest.MonkeyPatch) -> None:
    client, _ = make_client(monkeypatch)
    policy = client.get(DOCS).headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; style-src 'self'")


def test_the_demo_mark_is_on_the_page_only_of_a_demo(monkeypatch: pytest.MonkeyPatch) -> None:
    demo, _ = make_client(monkeypatch)
    assert 'class="demo">DEMO' in demo.get(DOCS).get_data(as_text=True)
    real, _ = make_client(monkeypatch, demo=False)
    assert 'class="demo"' not in real.get(DOCS).get_data(as_text=True)


def test_example_requests_can_be_pasted_and_answer_what_is_shown(monkeypatch: pytest.MonkeyPatch, page: Page) -> None:
    client, _ = make_client(monkeypatch)
    for curl, shown in zip(page.pre[:-1:2], page.pre[1:-1:2], strict=True):
        response = _pasted(client, curl)
        if "Authorization: Bearer" in curl:
            assert response.status_code == 401, curl
            continue
        if (
            shown == "The file, where one is stored."
        ):  # no document; tests/integration/test_source_file_api.py fetches it
            continue
        assert response.status_code == 200, curl
        assert json.dumps(examples.shortened(response.get_json()), sort_keys=True) == json.dumps(
            json.loads(shown), sort_keys=True
        )
    assert len(page.pre) == 2 * len(OPERATIONS) + 1


def _pasted(client: Any, curl: str) -> Any:
    words = shlex.split(curl.replace("\\\n", ""))
    assert words[:2] == ["curl", "-s"]
    assert words[2].startswith("http://127.0.0.1:")
    path = words[2].split("/", 3)[3]
    if "--data-binary" in words:
        kind = next(word for word in words if word.startswith("Content-Type: "))
        return client.post(f"/{path}", data=b"a file", content_type=kind.removeprefix("Content-Type: "))
    if "-d" not in words:
        return client.get(f"/{path}")
    assert "Content-Type: application/json" in words
    return client.post(f"/{path}", data=words[words.index("-d") + 1], content_type="application/json")


def test_the_example_problem_is_the_real_one(monkeypatch: pytest.MonkeyPatch, page: Page) -> None:
    client, _ = make_client(monkeypatch)
    headers = {"X-Request-Id": "desk-4.call-17"}
    real = client.post("/api/v1/resolve", json={"text": "white pickup", "limt": 3}, headers=headers).get_json()
    assert json.loads(page.pre[-1]) == real


def test_the_page_stands_when_the_catalogue_is_away(monkeypatch: pytest.MonkeyPatch) -> None:
    client, called = make_client(monkeypatch)
    called.raises = Unavailable("Nothing is compiled.", cure="Run the demo.")
    response = client.get(DOCS)
    assert response.status_code == 200
    assert "Nothing can be read from the catalogue now, so there is no example." in response.get_data(as_text=True)


def test_examples_are_made_once_an_edition_and_not_kept_while_it_is_away(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    client, called = make_client(monkeypatch, app=make_app())
    called.raises = Unavailable("Nothing is compiled.", cure="Run the demo.")
    client.get(DOCS)
    called.raises = None
    called.descriptions.clear()
    first = client.get(DOCS).get_data(as_text=True)
    asked = len(called.descriptions)
    assert asked
    assert client.get(DOCS).get_data(as_text=True) == first
    assert len(called.descriptions) == asked
    newer = (*EDITIONS, replace(EDITIONS[2], number=4, hash="4" * 64))
    monkeypatch.setattr(editions, "list_editions", lambda house: newer)
    client.get(DOCS)
    assert len(called.descriptions) == 2 * asked


def test_tokens_are_the_pages_own() -> None:
    ours = (ROOT / "catalog/api/static/docs.css").read_text("utf-8")
    theirs = (ROOT / "catalog/web/static/tokens.css").read_text("utf-8")
    night = "@media (prefers-color-scheme: dark)"
    for mine, pages in zip(ours.split(night), theirs.split(night), strict=True):
        theirs_here = pages.split("\n:root[data-light")[0]
        tokens = dict(re.findall(r"(--[a-z-]+):\s*(#[0-9a-f]{6});", theirs_here))
        used = dict(re.findall(r"(--[a-z-]+):\s*(#[0-9a-f]{6});", mine.split("* {")[0]))
        assert len(used) >= 10
        assert used == {name: tokens[name] for name in used}
    assert not re.findall(r"#[0-9a-f]{3,8}\b", ours.split("* { box-sizing")[1])


def test_long_answers_are_cut_saying_how_much_is_left_out() -> None:
    assert examples.shortened({"a": [1, 2, 3, 4]}) == {"a": [1, 2, "… 2 more"]}
    assert examples.shortened([{"a": [1]}]) == [{"a": [1]}]
    assert examples.shortened({str(n): n for n in range(30)})["…"] == "6 more"
    assert examples.shortened({"a": {str(n): n for n in range(9)}})["a"]["…"] == "1 more"
    assert examples.shortened({"a": {"b": {"c": {"d": {"e": [1, 2, 3]}}}}})["a"]["b"]["c"]["d"] == {"e": "… 3 more"}


def test_codes_named_in_messages_are_codes() -> None:
    text = (ROOT / "catalog/api/views.py").read_text("utf-8")
    named = re.findall(r"\b[0-9A-Z]{3}-[0-9A-Z]{3}\b", text)
    assert named
    assert all(codes.parse(code) for code in named)
