"""A description put on the watch list straight from its answer: the cues as understood, and the record it must find."""

import html
import re
from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient

from catalog.app import create_app
from catalog.domain.roles import Role
from catalog.services.house import House
from catalog.services.watch_list import watched
from tests.integration.conftest import Filled
from tests.integration.review_samples import three_records
from tests.integration.store_samples import ALPHA, BRAVO
from tests.people import csrf, signed_in, somebody, token_of

SAID = "ondru kella hatchback, my name is Wilhelmina"
STEWARD, READER = "tam.orrell", "ilse.varn"


@pytest.fixture
def app(filled: Filled) -> Iterator[Flask]:
    made = create_app(filled(three_records))
    somebody(made.extensions["chockbook"], STEWARD, Role.STEWARD)
    somebody(made.extensions["chockbook"], READER, Role.READER)
    yield made
    made.extensions["chockbook"].engine.dispose()


def form_on(client: FlaskClient, path: str = "/crew") -> dict[str, str]:
    """The hidden fields of the form on an answer's page; empty where there is no form."""
    page = client.post(path, data={"said": SAID}).text
    found = re.search(r'<details class="panel outcome watch-these">.*?</details>', page, re.DOTALL)
    if found is None:
        return {}
    assert ALPHA in found[0]
    return {name: html.unescape(value) for name, value in re.findall(r'name="(\w+)" value="([^"]*)"', found[0])}


@pytest.mark.parametrize("path", ["/crew", "/crew/live", "/desk", "/desk/live"])
def test_a_steward_has_the_form_on_every_answer(app: Flask, path: str) -> None:
    assert {"csrf_token", "cues", "do"} <= form_on(signed_in(app, STEWARD), path).keys()


def test_what_was_understood_is_watched(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    client = signed_in(app, STEWARD)
    form = form_on(client)
    sent = client.post("/steward/watch", data={**form, "code": ALPHA, "rank": "1"})
    assert (sent.status_code, sent.headers["Location"]) == (303, "/steward/watch?sort=newest")
    [one] = watched(house)
    assert (one.code, one.rank, one.author) == (ALPHA, 1, STEWARD)
    assert one.name == ", ".join(one.cues)
    assert any("kella" in cue for cue in one.cues)
    assert "wilhelmina" not in str(one).lower()
    # A record that was not in the answer, by its code.
    client.post("/steward/watch", data={**form, "code": "", "other": BRAVO.lower(), "rank": "3", "name": "As most say"})
    assert [(each.code, each.name) for each in watched(house)][1:] == [(BRAVO, "As most say")]


def test_who_may_not_has_no_form_and_is_refused(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    form = form_on(signed_in(app, STEWARD))
    reader, nobody = signed_in(app, READER), app.test_client()
    assert form_on(reader) == {}
    assert form_on(nobody) == {}
    given = {**form, "code": ALPHA, "rank": "3"}
    assert reader.post("/steward/watch", data={**given, "csrf_token": csrf(reader, "/account")}).status_code == 403
    assert nobody.post("/steward/watch", data={**given, "csrf_token": csrf(nobody, "/sign-in")}).status_code in (
        303,
        401,
    )
    assert signed_in(app, STEWARD).post("/steward/watch", data={**given, "csrf_token": "x"}).status_code == 400
    assert watched(house) == ()


def test_a_form_that_was_tampered_with_is_refused(app: Flask) -> None:
    client = signed_in(app, STEWARD)
    form = {**form_on(client), "code": ALPHA, "rank": "3"}
    wrong = (
        {"cues": "{"}, {"cues": "[]"}, {"cues": '[{"attribute": "size", "values": ["x"]}]'}, {"rank": "11"},
        {"rank": "first"}, {"code": ""}, {"code": "ZZZ-ZZZ"}, {"cues": '[{"attribute": "vin", "values": ["1"]}]'},
    )  # fmt: skip
    for changed in wrong:
        answer = client.post("/steward/watch", data={**form, **changed})
        assert answer.status_code in (400, 404), changed
    assert watched(app.extensions["chockbook"]) == ()


def test_cues_are_watched_over_the_api(app: Flask) -> None:
    house: House = app.extensions["chockbook"]
    headers = {"Authorization": f"Bearer {token_of(house, STEWARD, Role.STEWARD)}"}
    body = {
        "code": ALPHA,
        "cues": [{"attribute": "name", "values": ["kella"]}, {"attribute": "body", "values": ["van"]}],
    }
    made = app.test_client().post("/api/v1/watched", json=body, headers=headers).get_json()
    assert [(one["code"], len(one["cues"])) for one in made["watched"]] == [(ALPHA, 2)]
    none = app.test_client().post("/api/v1/watched", json={"code": ALPHA}, headers=headers)
    assert none.status_code == 400
