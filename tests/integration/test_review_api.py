"""The review over the API, with programs' tokens: two persons and the scope of a token hold there as on the pages."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from catalog.app import create_app
from catalog.domain.roles import RIGHTS, Right, Role
from catalog.services.house import House
from tests.integration.conftest import Filled
from tests.integration.review_samples import document, listed, three_records
from tests.integration.store_samples import ALPHA, BRAVO
from tests.people import somebody, token_of

WAIT, BODY = "cutoff.methods[b].wait", "looks.body"
CHANGES = {"cutoff.methods.1.wait.value": 30, "looks.body.value": "saloon"}
STEWARD, FIRST, SECOND = "tam.orrell", "jorn.askely", "mirel.dunt"
_ROLES = {STEWARD: Role.STEWARD, FIRST: Role.APPROVER, SECOND: Role.APPROVER}


@dataclass(frozen=True)
class Programs:
    """The application, and a token of each account with every right it has."""

    app: Flask
    tokens: Mapping[str, str]

    @property
    def house(self) -> House:
        house: House = self.app.extensions["chockbook"]
        return house

    def post(self, who: str, path: str, body: Mapping[str, Any], token: str = "") -> TestResponse:
        headers = {"Authorization": f"Bearer {token or self.tokens[who]}"}
        return self.app.test_client().post(f"/api/v1{path}", json=body, headers=headers)

    def get(self, who: str, path: str) -> dict[str, Any]:
        headers = {"Authorization": f"Bearer {self.tokens[who]}"}
        told: dict[str, Any] = self.app.test_client().get(f"/api/v1{path}", headers=headers).get_json()
        return told

    def bring(self, who: str, code: str = ALPHA) -> int:
        """The number of an update that changes a wait, which is critical, and a body, which is not."""
        line = {"kind": "record", "key": code, "document": document(code, {"identity.model": _model(code), **CHANGES})}
        sent = self.app.test_client().post(
            "/api/v1/updates?name=issue2.jsonl",
            data=json.dumps(line).encode(),
            content_type="application/jsonl",
            headers={"Authorization": f"Bearer {self.tokens[who]}"},
        )
        assert sent.status_code == 200, sent.get_json()
        return int(sent.get_json()["update"])

    def decide(self, who: str, update: int, body: Mapping[str, Any], token: str = "") -> TestResponse:
        return self.post(who, f"/updates/{update}/records/{ALPHA}/decisions", body, token)


def _model(code: str) -> str:
    return str(document(code)["identity"]["model"])


@pytest.fixture
def programs(filled: Filled, few_descriptions: None) -> Iterator[Programs]:
    app = create_app(filled(three_records))
    house: House = app.extensions["chockbook"]
    for name, role in _ROLES.items():
        somebody(house, name, role)
    yield Programs(app, {name: token_of(house, name, role) for name, role in _ROLES.items()})
    house.engine.dispose()


def states(answer: Mapping[str, Any]) -> dict[str, str]:
    return {change["path"]: change["state"] for change in answer["changes"]}


def problem(answer: TestResponse) -> tuple[int, str]:
    return answer.status_code, answer.get_json()["type"]


def test_from_the_file_to_the_edition(programs: Programs) -> None:
    number = programs.bring(STEWARD)
    [line] = programs.get(STEWARD, f"/updates/{number}")["records"]
    assert (line["code"], line["changes"], line["critical"]) == (ALPHA, 2, 1)
    seen = programs.get(FIRST, f"/updates/{number}/records/{ALPHA}")
    assert [change["path"] for change in seen["changes"]] == [WAIT, BODY]
    said = programs.decide(FIRST, number, {"kind": "comment", "path": WAIT, "words": "Ask the maker."}).get_json()
    assert said["changes"][0]["comments"] == [{"author": FIRST, "words": "Ask the maker."}]
    assert states(said) == {WAIT: "open", BODY: "open"}
    programs.decide(FIRST, number, {"kind": "reject", "path": BODY, "words": "The picture shows a van."})
    accepted = programs.decide(FIRST, number, {"kind": "accept", "path": WAIT, "change": seen["changes"][0]["change"]})
    assert states(accepted.get_json()) == {WAIT: "accepted", BODY: "rejected"}
    gates = programs.post(STEWARD, "/publications/check", {"updates": [number]}).get_json()
    assert {gate["outcome"] for gate in gates["gates"]} <= {"passed", "needs a look"}
    published = programs.post(FIRST, "/publications", {"updates": [number], "note": "The guide's new issue."})
    assert published.get_json()["edition"] == 2
    assert listed(programs.house).document == document(ALPHA, {"cutoff.methods.1.wait.value": 30})


def test_whoever_brought_it_in_cannot_accept_what_is_critical(programs: Programs) -> None:
    number = programs.bring(FIRST)
    for body in ({"kind": "accept"}, {"kind": "accept", "path": WAIT}):
        assert problem(programs.decide(FIRST, number, body)) == (403, "/api/v1/docs#forbidden")
    assert programs.decide(FIRST, number, {"kind": "accept", "path": BODY}).status_code == 200
    # Nor by accepting it through a second token: the account is what counts.
    again = token_of(programs.house, FIRST, Role.APPROVER, label="another program")
    assert programs.decide(FIRST, number, {"kind": "accept", "path": WAIT}, again).status_code == 403
    programs.post(FIRST, "/publications", {"updates": [number], "note": "The body."})
    assert listed(programs.house).document == document(ALPHA, {"looks.body.value": "saloon"})
    assert states(programs.decide(SECOND, number, {"kind": "accept"}).get_json()) == {WAIT: "accepted"}


def test_whoever_edited_it_cannot_accept_it_either(programs: Programs) -> None:
    number = programs.bring(STEWARD)
    edits = f"/updates/{number}/records/{ALPHA}/edits"
    fact = {**document(ALPHA)["cutoff"]["methods"][1]["wait"], "value": 45}
    edited = programs.post(FIRST, edits, {"path": WAIT, "fact": fact, "words": "The guide says 45."})
    assert edited.get_json()["changes"][0]["hands"] == [FIRST, STEWARD]
    assert programs.decide(FIRST, number, {"kind": "accept", "path": WAIT}).status_code == 403
    assert programs.decide(SECOND, number, {"kind": "accept", "path": WAIT}).status_code == 200
    refused = programs.post(FIRST, edits, {"path": WAIT, "fact": {**fact, "value": -4}})
    assert problem(refused) == (400, "/api/v1/docs#bad-input")


def test_a_token_does_no_more_than_it_was_made_for(programs: Programs) -> None:
    number = programs.bring(STEWARD)
    reading = token_of(programs.house, FIRST, Role.APPROVER, [Right.READ], "display")
    bringing = token_of(programs.house, FIRST, Role.APPROVER, [Right.READ, Right.UPDATE], "import")
    refused = (403, "/api/v1/docs#forbidden")
    assert problem(programs.decide(FIRST, number, {"kind": "comment", "words": "Hm."}, reading)) == refused
    assert problem(programs.decide(FIRST, number, {"kind": "accept", "path": WAIT}, bringing)) == refused
    assert programs.decide(FIRST, number, {"kind": "accept", "path": BODY}, bringing).status_code == 200
    publication = {"updates": [number], "note": "The body."}
    for token in (reading, bringing):
        assert problem(programs.post(FIRST, "/publications", publication, token)) == refused
        assert problem(programs.post(FIRST, "/publications/back", {"edition": 1, "reason": "x"}, token)) == refused
    assert problem(programs.post(STEWARD, "/publications", publication)) == refused, "a steward approves nothing"
    assert Right.APPROVE not in RIGHTS[Role.STEWARD]
    bare = programs.app.test_client().post(
        f"/api/v1/updates/{number}/records/{ALPHA}/decisions", json={"kind": "accept"}
    )
    assert bare.status_code == 401
    wrong = programs.decide(FIRST, number, {"kind": "accept"}, "no-such-token")
    assert wrong.status_code == 401
    assert states(programs.get(FIRST, f"/updates/{number}/records/{ALPHA}")) == {WAIT: "open", BODY: "accepted"}


def test_what_was_looked_at_must_be_what_is_decided(programs: Programs) -> None:
    number = programs.bring(STEWARD)
    seen = programs.get(FIRST, f"/updates/{number}/records/{ALPHA}")["changes"][0]["change"]
    fact = {**document(ALPHA)["cutoff"]["methods"][1]["wait"], "value": 45}
    programs.post(STEWARD, f"/updates/{number}/records/{ALPHA}/edits", {"path": WAIT, "fact": fact})
    stale = programs.decide(FIRST, number, {"kind": "accept", "path": WAIT, "change": seen})
    assert problem(stale) == (409, "/api/v1/docs#conflict")
    assert programs.decide(FIRST, number, {"kind": "accept", "path": "looks.colour"}).status_code in (400, 404)
    nowhere = programs.post(FIRST, f"/updates/{number}/records/{BRAVO}/decisions", {"kind": "accept"})
    assert nowhere.status_code == 404
    assert programs.decide(FIRST, 999, {"kind": "accept"}).status_code == 404
