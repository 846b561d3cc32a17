"""Signing in on the pages and what a sign-in is good for at every edge, against who means harm."""

import shutil
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from flask import Flask, request
from flask.testing import FlaskClient

from catalog.api.operations import OPERATIONS
from catalog.app import create_app
from catalog.config import Settings
from catalog.domain.roles import RIGHTS, Right, Role
from catalog.services import accounts, keys, signing, throttling
from catalog.services.acting import actor_of
from catalog.services.house import House
from catalog.services.signing import TERMINAL, Tried, sign_in
from catalog.services.trail import TrailAsked, read_trail
from catalog.web import acting
from catalog.web.pages.signing import own_page
from tests.people import PASSWORD, csrf, signed_in, somebody, token_of

NEW = "another-kettle-of-plums"
# Pages of whose whole content somebody without the right must see nothing.
GUARDED = {
    "/steward/accounts": (Role.ADMINISTRATOR,),
    "/steward/trail": (Role.APPROVER, Role.ADMINISTRATOR),
    "/account": tuple(Role),
}


Made = Callable[..., Flask]


@pytest.fixture
def made(sqlite_template: Path) -> Made:
    """made(data, ...) -> the application on a data folder, which is made where it is not there, and its settings."""

    def at(data: Path, **settings: Any) -> Flask:
        file = data / "chockbook.db"
        if not file.exists():
            data.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(sqlite_template, file)
        return create_app(replace(Settings(data, f"sqlite:///{file}"), **settings))

    return at


@pytest.fixture
def app(made: Made, tmp_path: Path) -> Iterator[Flask]:
    app = made(tmp_path / "data")
    yield app
    app.extensions["chockbook"].engine.dispose()


@pytest.fixture
def house(app: Flask) -> House:
    opened: House = app.extensions["chockbook"]
    return opened


@pytest.fixture
def tam(app: Flask, house: House) -> FlaskClient:
    somebody(house, "tam.orrell", Role.STEWARD)
    return signed_in(app, "tam.orrell")


def who(client: FlaskClient) -> str:
    """What the start page's header says."""
    return client.get("/").text.split('class="who"')[1].split("</p>")[0]


def cookie(client: FlaskClient, name: str = "chockbook") -> str:
    found = client.get_cookie(name)
    return found.value if found else ""


def posted(client: FlaskClient, **form: str) -> Any:
    return client.post("/sign-in", data={"csrf_token": csrf(client, "/sign-in"), **form})


def test_every_page_says_who_is_signed_in(app: Flask, tam: FlaskClient) -> None:
    assert "tam.orrell" in who(tam)
    assert "steward" in who(tam)
    stranger = app.test_client()
    assert 'href="/sign-in"' in who(stranger)
    assert 'href="/sign-in?to=/steps"' in stranger.get("/steps").text
    assert not cookie(stranger), "a reader needs no cookie"


def test_the_cookie_is_as_rfc_6265bis_and_the_pages_need_it(app: Flask, house: House) -> None:
    """draft-ietf-httpbis-rfc6265bis, 5.6.5-5.6.7: Secure, HttpOnly, SameSite; 4.1.3.2: the __Host- prefix."""
    somebody(house, "tam.orrell", Role.STEWARD)
    sent = posted(app.test_client(), name="tam.orrell", password=PASSWORD).headers["Set-Cookie"]
    parts = {part.strip() for part in sent.split(";")[1:]}
    assert {"HttpOnly", "SameSite=Lax", "Path=/"} <= parts
    assert not any(part.startswith(("Domain", "Expires", "Max-Age")) for part in parts)
    assert "Secure" not in parts


def test_behind_https_the_cookie_goes_over_nothing_else(made: Made, tmp_path: Path) -> None:
    app = made(tmp_path / "data", https=True)
    somebody(app.extensions["chockbook"], "tam.orrell", Role.STEWARD)
    client = app.test_client()
    base = {"base_url": "https://catalogue.example", "headers": {"X-Forwarded-For": "192.0.2.1"}}
    token = client.get("/sign-in", **base).text.split('name="csrf_token" value="')[1].split('"')[0]
    form = {"name": "tam.orrell", "password": PASSWORD, "csrf_token": token}
    sent = client.post("/sign-in", data=form, **base).headers["Set-Cookie"]
    assert sent.startswith("__Host-chockbook=")
    assert {"Secure", "HttpOnly", "SameSite=Lax", "Path=/"} <= {part.strip() for part in sent.split(";")}
    assert "Domain" not in sent
    app.extensions["chockbook"].engine.dispose()


def test_addresses_behind_the_proxy_are_told_apart_and_forged_ones_are_not_believed(made: Made, tmp_path: Path) -> None:
    app = made(tmp_path / "data", https=True)
    plain = made(tmp_path / "plain")
    for one in (app, plain):
        one.add_url_rule("/seen", "seen", lambda: str(request.remote_addr))
    assert app.test_client().get("/seen", headers={"X-Forwarded-For": "203.0.113.7, 192.0.2.1"}).text == "192.0.2.1"
    assert plain.test_client().get("/seen", headers={"X-Forwarded-For": "203.0.113.7"}).text == "127.0.0.1"
    for made_app in (app, plain):
        made_app.extensions["chockbook"].engine.dispose()


def test_the_key_of_sessions_is_its_owners_and_shared_by_processes(made: Made, tmp_path: Path) -> None:
    one = made(tmp_path / "data")
    somebody(one.extensions["chockbook"], "tam.orrell", Role.STEWARD)
    client = signed_in(one, "tam.orrell")
    key = tmp_path / "data" / "session.key"
    assert key.stat().st_mode & 0o777 == 0o600
    other = made(tmp_path / "data").test_client()
    other.set_cookie("chockbook", cookie(client))
    assert "tam.orrell" in who(other)


def test_nothing_is_written_for_who_only_reads(app: Flask, tmp_path: Path) -> None:
    client = app.test_client()
    for page in ("/", "/steps", "/steward/sayings"):
        client.get(page)
    assert not (tmp_path / "data" / "session.key").exists()


def test_a_cookie_under_another_key_or_changed_is_nobodys(
    made: Made, app: Flask, tam: FlaskClient, tmp_path: Path
) -> None:
    other = made(tmp_path / "other")
    somebody(other.extensions["chockbook"], "tam.orrell", Role.ADMINISTRATOR)
    forged = cookie(signed_in(other, "tam.orrell"))
    good = cookie(tam)
    for value in (forged, good[:-2], good[2:], "", "x" * 3000, good.replace(".", "..", 1)):
        stranger = app.test_client()
        stranger.set_cookie("chockbook", value)
        assert "Sign in" in who(stranger), value
        assert stranger.get("/account").status_code == 303
    other.extensions["chockbook"].engine.dispose()


def test_a_session_fixed_beforehand_is_not_the_one_signed_in(app: Flask, house: House) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    attacker = app.test_client()
    token = csrf(attacker, "/sign-in")
    fixed = cookie(attacker)
    victim = app.test_client()
    victim.set_cookie("chockbook", fixed)
    assert (
        victim.post("/sign-in", data={"name": "tam.orrell", "password": PASSWORD, "csrf_token": token}).status_code
        == 303
    )
    assert cookie(victim) != fixed
    assert "Sign in" in who(attacker)
    # And the attacker's form token does not fit the victim's new session.
    assert victim.post("/account/everywhere", data={"csrf_token": token}).status_code == 400


def test_signing_out_ends_a_stolen_cookie_too(app: Flask, house: House, tam: FlaskClient) -> None:
    stolen = cookie(tam)
    assert tam.post("/sign-out", data={"csrf_token": csrf(tam, "/account")}).status_code == 303
    thief = app.test_client()
    thief.set_cookie("chockbook", stolen)
    assert thief.get("/account").status_code == 303
    assert "Sign in" in who(thief)


def test_sign_out_everywhere_and_a_new_password_end_other_browsers(app: Flask, tam: FlaskClient) -> None:
    other = signed_in(app, "tam.orrell")
    form = {"old": PASSWORD, "new": NEW, "again": NEW, "csrf_token": csrf(tam, "/account")}
    answer = tam.post("/account/password", data=form, follow_redirects=True)
    assert "new password is set" in answer.text
    assert other.get("/account").status_code == 303
    assert tam.get("/account").status_code == 200
    tam.post("/account/everywhere", data={"csrf_token": csrf(tam, "/account")})
    assert tam.get("/account").status_code == 303


@pytest.mark.parametrize(("limit", "why"), [(signing.IDLE, "idle"), (signing.LONGEST["page"], "too long")])
def test_a_session_ends_by_its_limits(
    app: Flask, tam: FlaskClient, limit: int, why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    began = int(time.time())
    step = limit // 1_000_000 // 40
    if why == "too long":
        for number in range(1, 40):  # used all along
            monkeypatch.setattr(acting, "_now", lambda number=number: began + number * step)
            assert "tam.orrell" in who(tam), number
    monkeypatch.setattr(acting, "_now", lambda: began + limit // 1_000_000 + 5)
    assert "Sign in" in who(tam)


def test_while_the_database_is_away_reading_goes_on_and_nothing_can_be_done(
    app: Flask, house: House, tam: FlaskClient, tmp_path: Path
) -> None:
    token = csrf(tam, "/account")
    house.engine.dispose()
    (tmp_path / "data" / "chockbook.db").rename(tmp_path / "gone.db")
    house.standing.forget(next(iter(house.standing._known)))
    assert "tam.orrell" in who(tam)
    assert tam.get("/account").status_code == 503
    assert tam.post("/account/everywhere", data={"csrf_token": token}).status_code == 503
    assert posted(app.test_client(), name="tam.orrell", password=PASSWORD).status_code == 503


@pytest.mark.parametrize(
    "to",
    [
        "https://evil.example/", "//evil.example/", "/\\evil.example", "\\\\evil.example", "javascript:alert(1)",
        "http:evil.example", "/%0d%0aSet-Cookie:x", "/\r\nSet-Cookie: x=1", "///evil.example", "/ /evil", "é",
        "/nothing/here", "/sign-out", "/api/v1/trail", "/assets/x/tokens.css/../..", "x" * 600, "/account/password",
        "/sign-in?to=//evil.example",
    ],
)  # fmt: skip
def test_signing_in_leads_only_to_our_own_pages(app: Flask, house: House, to: str) -> None:
    somebody(house, "tam.orrell", Role.STEWARD)
    answer = posted(app.test_client(), name="tam.orrell", password=PASSWORD, to=to)
    assert answer.headers["Location"] == "/"


def test_signing_in_leads_back(app: Flask, house: House) -> None:
    somebody(house, "tam.orrell", Role.ADMINISTRATOR)
    asked = app.test_client().get("/steward/trail?person=a&page=2")
    assert asked.status_code == 303
    assert asked.headers["Location"] == "/sign-in?to=%2Fsteward%2Ftrail%3Fperson%3Da%26page%3D2"
    client = app.test_client()
    answer = posted(client, name=" TAM.Orrell ", password=PASSWORD, to="/steward/trail?person=a&page=2")
    assert answer.headers["Location"] == "/steward/trail?person=a&page=2"
    with app.test_request_context():
        assert own_page("/records/QPW-TF3?edition=2") == "/records/QPW-TF3?edition=2"


def test_every_form_that_changes_something_is_refused_without_its_token(app: Flask, tam: FlaskClient) -> None:
    """Every rule of the pages that takes a POST, found in the map itself, so a new one cannot be forgotten."""
    checked = 0
    for rule in app.url_map.iter_rules():
        if "POST" not in (rule.methods or ()) or not rule.endpoint.startswith("pages."):
            continue
        name = rule.endpoint.removeprefix("pages.")
        path = app.url_map.bind("").build(rule.endpoint, dict.fromkeys(rule.arguments, "1"))
        if name in acting._CHANGES_NOTHING:
            sent = {"json": {"text": "white van"}} if name == "phone_search" else {"data": {"said": "white van"}}
            assert tam.post(path, **sent).status_code != 400, path
            continue
        answer = tam.post(path, data={"said": "white van"})
        checked += 1
        assert answer.status_code == 400, path
        assert "Nothing was changed" in answer.text, path
        for wrong in ("", "x", csrf(app.test_client(), "/sign-in")):
            assert tam.post(path, data={"csrf_token": wrong}).status_code == 400, path
        right = csrf(tam, "/account")
        foreign = {"Sec-Fetch-Site": "cross-site"}
        assert tam.post(path, data={"csrf_token": right}, headers=foreign).status_code == 400, path
    assert checked >= 10
    assert tam.get("/account").status_code == 200


@pytest.mark.parametrize("role", [None, *Role])
def test_guarded_pages_open_to_whom_they_should(app: Flask, house: House, role: Role | None) -> None:
    if role:
        somebody(house, "some.body", role)
    client = signed_in(app, "some.body") if role else app.test_client()
    for page, roles in GUARDED.items():
        expected = 303 if role is None else 200 if role in roles else 403
        assert client.get(page).status_code == expected, (page, role)


@pytest.mark.parametrize("role", [None, *Role])
def test_each_operation_of_the_api_asks_for_its_right(app: Flask, house: House, role: Role | None) -> None:
    headers = {}
    if role:
        somebody(house, "some.body", role)
        headers = {"Authorization": f"Bearer {token_of(house, 'some.body', role)}"}
    client = app.test_client()
    guarded = [operation for operation in OPERATIONS if operation.right]
    assert guarded
    for operation in guarded:
        path = app.url_map.bind("").build(
            f"api.{operation.name}",
            {name: "1" if name != "code" else "QPW-TF3" for name in operation.path},
            force_external=False,
        )
        answer = client.open(
            path, method=operation.method, headers=headers, json={} if operation.method == "POST" else None
        )
        if role is None:
            assert answer.status_code == 401, path
            assert answer.headers["WWW-Authenticate"] == "Bearer"
        elif operation.right not in RIGHTS[role]:
            assert answer.status_code == 403, path
        else:
            assert answer.status_code not in (401, 403), path


def test_a_cookie_alone_never_acts_over_the_api(app: Flask, house: House) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    admin = signed_in(app, "a.dorn")
    assert admin.get("/api/v1/trail").status_code == 401
    token = csrf(admin, "/account")
    assert admin.get("/api/v1/trail", headers={"X-CSRF-Token": token}).status_code in (200, 503)  # nothing is compiled
    assert f'name="csrf-token" content="{token[:20]}' in admin.get("/").text
    for wrong in ("x", csrf(app.test_client(), "/sign-in")):
        assert admin.get("/api/v1/trail", headers={"X-CSRF-Token": wrong}).status_code == 401
    stranger = app.test_client()
    assert stranger.get("/api/v1/trail", headers={"X-CSRF-Token": token}).status_code == 401


@pytest.mark.parametrize("given", ["Basic YTpi", "Bearer", "Bearer ", "Bearer x", "token", "Bearer chockbook_x y"])
def test_what_is_no_token_is_refused_even_where_reading_is_open(app: Flask, house: House, given: str) -> None:
    answer = app.test_client().get("/api/v1/trail", headers={"Authorization": given})
    assert answer.status_code in (400, 401)
    assert answer.mimetype == "application/problem+json"


def test_a_terminals_sign_in_works_as_a_token_and_a_pages_does_not(app: Flask, house: House) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    for via, expected in ((TERMINAL, False), ("page", True)):
        secret = sign_in(house, Tried("a.dorn", PASSWORD, "x", via)).secret
        answer = app.test_client().get("/api/v1/trail", headers={"Authorization": f"Bearer {secret}"})
        assert (answer.status_code == 401) is expected


def test_where_reading_needs_an_account_nothing_else_is_shown(made: Made, tmp_path: Path, demo_data: Path) -> None:
    data = Path(shutil.copytree(demo_data, tmp_path / "data"))
    app = made(data, reading="accounts")
    house: House = app.extensions["chockbook"]
    somebody(house, "o.tarn", Role.READER)
    stranger = app.test_client()
    for rule in app.url_map.iter_rules():
        if rule.arguments or not rule.endpoint.startswith("pages.") or rule.rule == "/sign-in":
            continue
        method = "GET" if "GET" in (rule.methods or ()) else "POST"
        answer = stranger.open(rule.rule, method=method)
        assert answer.status_code in (303, 400, 401), rule.rule
        assert "Brantock" not in answer.text
    assert stranger.get("/records/QPW-TF3").status_code == 303
    assert stranger.post("/desk/live", data={"said": "white pickup"}).status_code == 401
    for path in ("/api/v1/records", "/api/v1/docs", "/api/v1/openapi.json", "/api/v1/records/QPW-TF3"):
        assert stranger.get(path).status_code == 401, path
    assert stranger.post("/api/v1/resolve", json={"text": "white pickup"}).status_code == 401
    assert stranger.get("/sign-in").status_code == 200
    with stranger.get(app.extensions["chockbook.assets"].path("tokens.css")) as style:
        assert style.status_code == 200
    reader = signed_in(app, "o.tarn")
    assert reader.get("/records/QPW-TF3").status_code == 200
    assert "Brantock" in reader.post("/desk/live", data={"said": "white pickup, port left rear"}).text
    headers = {"Authorization": f"Bearer {token_of(house, 'o.tarn', Role.READER)}"}
    assert stranger.get("/api/v1/records/QPW-TF3", headers=headers).status_code == 200
    # With the database away the signed cookie is enough to go on reading what is compiled.
    house.engine.dispose()
    for file in data.glob("chockbook.db*"):
        file.unlink()
    house.standing._known.clear()
    assert "Brantock" in reader.post("/desk/live", data={"said": "white pickup, port left rear"}).text
    house.engine.dispose()


def test_a_one_time_password_leads_to_a_new_one_and_nowhere_else(app: Flask, house: House) -> None:
    admin = somebody(house, "a.dorn", Role.ADMINISTRATOR)
    given = accounts.add_account(house, admin, accounts.NewAccount("tam.orrell", Role.APPROVER)).password
    client = app.test_client()
    assert posted(client, name="tam.orrell", password=given, to="/steps").headers["Location"] == "/account"
    for page in ("/steps", "/steward/trail", "/"):
        answer = client.get(page)
        assert (answer.status_code, answer.headers["Location"]) == (303, "/account")
    text = client.get("/account").text
    assert "was for one use" in text
    assert "Make a token" not in text
    form = {"old": given, "new": NEW, "csrf_token": csrf(client, "/account")}
    assert "typed in two ways" in client.post("/account/password", data={**form, "again": "x"}).text
    assert client.post("/account/password", data={**form, "again": NEW}).status_code == 303
    assert client.get("/steward/trail").status_code == 200


def test_guesses_on_the_page_are_slowed_down_and_say_so(
    app: Flask, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("catalog.services.passwords.fits", lambda encoded, said: said == PASSWORD)
    somebody(house, "tam.orrell", Role.STEWARD)
    for name in ("tam.orrell", "no.body"):
        client = app.test_client()
        answers = [posted(client, name=name, password="wrong") for _ in range(throttling.PAIR + 1)]
        assert [answer.status_code for answer in answers] == [401] * throttling.PAIR + [429]
        assert 0 < int(answers[-1].headers["Retry-After"]) <= 15
        assert "Too many tries" in answers[-1].text
        assert 'value="wrong"' not in answers[0].text
    part = read_trail(house, actor_of("a.dorn", Role.ADMINISTRATOR, "page"), TrailAsked(action="sign in refused"))
    assert {entry.subject for entry in part.entries} == {"tam.orrell", "no such account"}


def test_tokens_are_made_shown_once_and_ended_on_the_page(app: Flask, house: House, tam: FlaskClient) -> None:
    form = {
        "label": "feed <b>",
        "right": ["read", "update", "nonsense"],
        "days": "9",
        "csrf_token": csrf(tam, "/account"),
    }
    page = tam.post("/account/tokens", data=form)
    assert page.headers["Cache-Control"] == "no-store"
    secret = page.text.split('class="secret">')[1].split("<")[0]
    assert signing.secret_actor(house, secret).rights == {Right.READ, Right.UPDATE}
    again = tam.get("/account").text
    assert secret not in again
    assert "feed &lt;b&gt;" in again
    id_ = again.split('name="id" value="')
    for part in id_[1:]:
        tam.post("/account/tokens/end", data={"id": part.split('"')[0], "csrf_token": csrf(tam, "/account")})
        break
    assert tam.post("/account/tokens", data={**form, "right": "approve"}).status_code == 403
    assert tam.post("/account/tokens", data={**form, "days": "9999"}).status_code == 400


def test_administrators_add_change_and_disable_on_the_page(app: Flask, house: House) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    admin = signed_in(app, "a.dorn")

    def do(path: str, **form: str) -> Any:
        return admin.post(path, data={**form, "csrf_token": csrf(admin, "/steward/accounts")})

    page = do("/steward/accounts", name="ned.brill", role="steward", shown="Ned Brill")
    password = page.text.split('class="secret">')[1].split("<")[0]
    assert posted(app.test_client(), name="ned.brill", password=password).status_code == 303
    assert password not in admin.get("/steward/accounts").text
    assert do("/steward/accounts/ned.brill", do="role", role="approver").status_code == 303
    assert do("/steward/accounts/ned.brill", do="disable").status_code == 303
    assert do("/steward/accounts/ned.brill", do="disable").status_code == 409
    assert do("/steward/accounts/ned.brill", do="enable").status_code == 303
    assert "One-time password of ned.brill" in do("/steward/accounts/ned.brill", do="password").text
    for form, status in (
        ({"do": "role", "role": "king"}, 400), ({"do": "nothing"}, 400), ({}, 400),
    ):  # fmt: skip
        assert do("/steward/accounts/ned.brill", **form).status_code == status
    assert do("/steward/accounts/no.body", do="disable").status_code == 404
    assert do("/steward/accounts/a.dorn", do="disable").status_code == 403
    assert do("/steward/accounts", name="ned.brill", role="reader").status_code == 409


def test_the_trail_page_shows_filters_and_hands_out(app: Flask, house: House) -> None:
    somebody(house, "a.dorn", Role.ADMINISTRATOR)
    admin = signed_in(app, "a.dorn")
    page = admin.get("/steward/trail?action=sign+in&person=a.dorn").text
    assert "1 entry" in page
    assert admin.get("/steward/trail?day=nonsense").status_code == 400
    assert "Nothing like this" in admin.get("/steward/trail?person=%3Cscript%3E").text
    file = admin.post("/steward/trail.jsonl", data={"csrf_token": csrf(admin, "/steward/trail")})
    assert file.headers["Content-Disposition"] == 'attachment; filename="trail.jsonl"'
    assert '"action":"export"' in file.text.splitlines()[-1]


def test_an_outcome_is_kept_only_with_the_forms_token(made: Made, tmp_path: Path, demo_data: Path) -> None:
    app = made(Path(shutil.copytree(demo_data, tmp_path / "data")))
    client = app.test_client()
    live = client.post("/desk/live", data={"said": "white pickup, port left rear"}).text
    assert 'name="csrf_token"' in live
    token = live.split('name="csrf_token" value="')[1].split('"')[0]
    form = {"id": "x", "edition": "3", "cues": "[]", "outcome": "not_listed:badge:"}
    assert "older than the sign-in" in client.post("/outcomes", data=form).text
    assert "older than the sign-in" not in client.post("/outcomes", data={**form, "csrf_token": token}).text
    app.extensions["chockbook"].engine.dispose()


def test_a_host_that_cannot_keep_a_key_is_still_read(
    made: Made, tmp_path: Path, demo_data: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(data: Path, path: Path) -> bytes:
        raise OSError(28, "No space left on device")

    app = made(Path(shutil.copytree(demo_data, tmp_path / "data")))
    monkeypatch.setattr(keys, "_kept", full)
    client = app.test_client()
    assert "Brantock" in client.post("/desk/live", data={"said": "white pickup, port left rear"}).text
    assert client.get("/sign-in").status_code == 200
    answer = client.post("/sign-in", data={"name": "a.dorn", "password": PASSWORD})
    assert answer.status_code == 503
    assert "No space left" in answer.text
    app.extensions["chockbook"].engine.dispose()
