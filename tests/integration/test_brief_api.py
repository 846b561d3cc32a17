"""Briefs over the API, on their pages and in the terminal: who may, what is told, what is left out."""

import json
import logging
import re
import subprocess
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.serving import WSGIRequestHandler, make_server

from catalog.app import create_app
from catalog.cli.main import run
from catalog.domain.roles import Role
from catalog.services.brief_openings import write_openings
from catalog.services.house import House
from tests.integration.brief_samples import CALLER, CODE, everything_stored, house_on
from tests.people import csrf, signed_in, somebody, token_of

ROOT = Path(__file__).parents[2]
BODY = {
    "text": f"{CALLER}, white pickup, badge brantok",
    "scene": {"trapped": "yes"},
    "incident": "0417",
    "letter": "B",
}


@pytest.fixture(scope="module", params=["sqlite"])
def house(request: pytest.FixtureRequest, demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """What differs between databases is tested below the edges (test_briefs.py)."""
    with house_on(request, demo_data, tmp_path_factory.mktemp("brief-api") / "data") as made:
        somebody(made, "jonah.tellwright", Role.DISPATCHER)
        somebody(made, "idris.fennimoor", Role.READER)
        yield made


@pytest.fixture(scope="module")
def app(house: House) -> Iterator[Flask]:
    made = create_app(house.settings)
    yield made
    made.extensions["chockbook"].engine.dispose()


@pytest.fixture(scope="module")
def token(house: House) -> str:
    return token_of(house, "jonah.tellwright", Role.DISPATCHER)


@pytest.fixture(scope="module")
def desk(app: Flask) -> FlaskClient:
    return signed_in(app, "jonah.tellwright")


def ask(app: Flask, token: str, path: str, body: dict[str, Any] | None = None, key: str = "") -> Any:
    headers = {"Authorization": f"Bearer {token}"} if token else {}
    if key:
        headers["Idempotency-Key"] = key
    client = app.test_client()
    url = f"/api/v1{path}"
    return client.get(url, headers=headers) if body is None else client.post(url, json=body, headers=headers)


def test_a_brief_is_composed_read_and_looked_after(app: Flask, house: House, token: str) -> None:
    made = ask(app, token, "/briefs", BODY)
    assert made.status_code == 200, made.text
    told = made.get_json()
    assert made.headers["Cache-Control"] == "no-store"
    assert (told["stored"], told["letter"], told["incident"], told["number"]) == (True, "B", "0417", 1)
    assert re.fullmatch(r"/b/[A-Za-z0-9_-]{22}", told["link"]["path"])
    assert told["radio"]["text"].count("Vehicle B") == 1
    assert "%" not in told["radio"]["text"]
    assert {field["key"] for field in told["scene"]} == {"trapped"}
    assert "Quistgaard" not in made.text
    path = f"/briefs/{told['id']}"
    assert ask(app, token, path).get_json()["link"] is None
    ask(app, token, f"{path}/sent", {"form": "radio", "to": "Engine 4"})
    ask(app, token, f"{path}/read-back", {"who": "Engine 4"})
    follow = ask(app, token, f"{path}/follow-up", {"scene": {"fire": "yes"}})
    assert follow.status_code == 200, follow.text
    assert follow.get_json()["radio"]["text"].startswith("CORRECTION")
    assert follow.get_json()["changes"]
    recalled = ask(app, token, f"{path}/recall", {"why": "It was vehicle A."}).get_json()
    assert recalled["recalled"]["instead"] == "Go by the steps for any vehicle."
    assert [one["form"] for one in recalled["sent"]] == ["radio"]
    assert recalled["read_back"][0]["who"] == "Engine 4"
    assert [one["id"] for one in recalled["followed_by"]] == [follow.get_json()["id"]]
    assert recalled["radio"] == told["radio"]
    assert ask(app, token, f"{path}/recall", {"why": "Again."}).status_code == 409
    assert len(ask(app, token, "/incidents/0417").get_json()["briefs"]) == 2
    assert told["id"] in {one["id"] for one in ask(app, token, "/briefs").get_json()["briefs"]}


def test_a_key_makes_sending_again_safe(app: Flask, token: str) -> None:
    body = {"codes": [CODE], "letter": "A"}
    first, again = (ask(app, token, "/briefs", body, "Q" * 24).get_json() for _ in range(2))
    assert (first["id"], first["again"], again["again"]) == (again["id"], False, True)
    assert ask(app, token, "/briefs", {**body, "letter": "C"}, "Q" * 24).status_code == 409
    assert ask(app, token, "/briefs", body, "short").status_code == 400


@pytest.mark.parametrize(
    ("body", "path"),
    [
        ({"letter": "AA"}, "letter"),
        ({"incident": "Mr Lantwick, 07700 900123"}, "incident"),
        ({"scene": {"fire": "perhaps"}}, "scene"),
        ({"colour": "white"}, "colour"),
    ],
)
def test_what_does_not_fit_is_refused(app: Flask, token: str, body: dict[str, Any], path: str) -> None:
    refused = ask(app, token, "/briefs", body)
    assert refused.status_code == 400
    assert refused.get_json()["errors"][0]["path"].startswith(path)
    assert "Lantwick" not in refused.text


def test_whoever_may_not_is_refused(app: Flask, house: House) -> None:
    assert ask(app, "", "/briefs", BODY).status_code == 401
    assert ask(app, token_of(house, "idris.fennimoor", Role.READER), "/briefs", BODY).status_code == 403
    for path in ("/briefs", "/briefs/B-2222222222", "/incidents/0417"):
        assert ask(app, "", path).status_code == 401
    for path in ("/briefs", "/briefs/B-2222222222", "/incidents/0417"):
        assert app.test_client().get(path).status_code == 303  # to sign in
        assert signed_in(app, "idris.fennimoor").get(path).status_code == 403


def test_no_word_of_the_caller_is_stored_or_logged(
    app: Flask, house: House, token: str, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    with caplog.at_level(logging.DEBUG):
        made = ask(app, token, "/briefs", {**BODY, "incident": "quiet"}, "N" * 20).get_json()
        link = made["link"]["path"]
        app.test_client().get(link)
    logged = caplog.text + "".join(capfd.readouterr())
    seen = (everything_stored(house.engine) + logged).lower()
    for word in ("wilhelmina", "quistgaard", "900123", "zebracorn", "velvetine"):
        assert word not in seen
    assert link.removeprefix("/b/").lower() not in seen


def test_a_link_opens_for_anybody_and_is_kept_nowhere(app: Flask, house: House, token: str) -> None:
    made = ask(app, token, "/briefs", {"codes": [CODE], "incident": "open"}).get_json()
    stranger = app.test_client()
    found = stranger.get(made["link"]["path"])
    assert found.status_code == 200
    assert found.headers["Cache-Control"] == "no-store"
    assert found.headers["Referrer-Policy"] == "no-referrer"
    assert "noindex" in found.headers["X-Robots-Tag"]
    assert '<meta name="robots" content="noindex">' in found.text
    assert "Set-Cookie" not in found.headers
    assert 'class="qr"' in found.text
    assert " style=" not in found.text
    for line in made["radio"]["lines"]:
        assert line["text"].replace("'", "&#39;") in found.text
    # Looking ahead, or asking whether it is there, is not opening.
    write_openings(house)
    before = len(ask(app, token, f"/briefs/{made['id']}").get_json()["opened"])
    assert before == 1
    stranger.head(made["link"]["path"])
    stranger.get(made["link"]["path"], headers={"Sec-Purpose": "prefetch"})
    assert write_openings(house) == 0
    assert stranger.get("/b/AAAAAAAAAAAAAAAAAAAAAA").status_code == 404


def test_reading_for_accounts_only_leaves_links_open(house: House, app: Flask, token: str) -> None:
    from dataclasses import replace

    made = ask(app, token, "/briefs", {"codes": [CODE]}).get_json()
    closed = create_app(replace(house.settings, reading="accounts"))
    assert closed.test_client().get(made["link"]["path"]).status_code == 200
    assert closed.test_client().get("/records/QPW-TF3").status_code == 303
    closed.extensions["chockbook"].engine.dispose()


def test_a_brief_is_looked_after_on_its_page(app: Flask, desk: FlaskClient, token: str) -> None:
    made = ask(app, token, "/briefs", {"codes": [CODE], "incident": "paged"}).get_json()
    page = f"/briefs/{made['id']}"

    def post(act: str, **form: str) -> Any:
        return desk.post(f"{page}/{act}", data={"csrf_token": csrf(desk, page), **form})

    assert made["id"] in desk.get("/briefs").text
    assert made["id"] in desk.get("/incidents/paged").text
    assert post("sent", form="radio", to="Engine 4").status_code == 303
    assert post("read-back", who="Engine 4", words="leave the port").status_code == 303
    assert post("read-back", who="").status_code == 400
    assert "leave the port" in desk.get(page).text
    linked = post("link")
    link = re.search(r"http://[^<]+(/b/[A-Za-z0-9_-]{22})", linked.text)
    assert link
    assert "Engine 4" not in app.test_client().get(link[1]).text, "what became of it is for the control room"
    slip = post("hand-over", temperature="41 at the sill", temperature_at="02:55")
    assert slip.status_code == 200
    assert "Hand-over slip" in slip.text
    assert "41 at the sill" in slip.text
    assert post("recall", why="Wrong <b>vehicle</b>.", instead="Use B.").status_code == 303
    recalled = app.test_client().get(made["link"]["path"]).text
    assert "RECALLED" in recalled
    assert "jonah.tellwright" in recalled
    assert "Wrong &lt;b&gt;vehicle&lt;/b&gt;." in recalled
    assert "Use B." in recalled
    assert post("recall", why="Again.").status_code == 409
    assert post("dance").status_code == 400
    assert desk.post(f"{page}/recall", data={"why": "No token."}).status_code == 400


def test_the_curl_example_of_the_readme_works(app: Flask, token: str) -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    [block] = re.findall(r"<!-- run by tests/integration/test_brief_api.py -->\n```sh\n(.*?)```", text, re.DOTALL)
    server = make_server("127.0.0.1", 0, app, threaded=True, request_handler=Silent)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        command = block.replace("http://127.0.0.1:8466", f"http://127.0.0.1:{server.server_port}")
        for again in (False, True):
            ran = subprocess.run(
                ["/bin/bash", "-c", command],
                env={"CHOCKBOOK_TOKEN": token, "PATH": "/usr/bin:/bin"},
                capture_output=True,
                text=True,
                timeout=60,
                check=True,
            )
            told = json.loads(ran.stdout)
            assert (told["stored"], told["incident"], told["again"]) == (True, "0417", again)
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


class Silent(WSGIRequestHandler):
    """No line per request."""

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        pass


def test_briefs_in_the_terminal(
    house: House, token: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(house.settings.data))

    def told(*arguments: str, status: int = 0) -> str:
        assert run(["brief", *arguments]) == status
        return "".join(capsys.readouterr())

    nobody = told("white pickup, badge brantok")
    assert "UNSTORED" in nobody
    assert "/b/" not in nobody
    assert "not said in whose name" in told("show", "B-2222222222", status=6)
    monkeypatch.setenv("CHOCKBOOK_TOKEN", token)
    made = json.loads(told("--code", CODE, "--incident", "cli", "--vehicle", "c", "--form", "json"))
    assert (made["stored"], made["letter"], made["incident"]) == (True, "C", "cli")
    assert made["radio"]["text"].splitlines()[0] in told("show", made["id"])
    assert "Sent (radio) to Engine 4" in told("sent", made["id"], "--sent-as", "radio", "--to", "Engine 4")
    assert "Read back by Engine 4: the port" in told("read-back", made["id"], "--by", "Engine 4", "--words", "the port")
    assert "CORRECTION" in told("correct", made["id"], "--scene", "fire=yes", "--form", "full")
    assert "Do instead: Use A." in told("recall", made["id"], "--why", "Wrong.", "--instead", "Use A.")
    assert "recalled already" in told("recall", made["id"], "--why", "Wrong.", status=5)
    assert "There is no brief" in told("show", "B-2222222222", status=3)
