"""Ask next over the invented catalogue: questions, answers sent back, not this vehicle."""

from functools import cache
from typing import Any

import pytest
from flask.testing import FlaskClient

from catalog.errors import BadInput
from catalog.resolve.answering.asked import Answers
from catalog.resolve.answering.question_words import UNLISTED
from catalog.resolve.questions.choosing import Stopped
from catalog.resolve.questions.safety import Caller
from catalog.resolve.questions.table import expert_questions
from catalog.services.asking import check as check_answers
from schemas.question_answers import CALLERS, LONGEST_ANSWER, STOPPED
from tests.integration.api_demo import demo_app
from tests.integration.test_api import check
from tests.unit.api_fakes import CODE

pytestmark = pytest.mark.usefixtures("served_demo")

TEXT = "white pickup, I'm across the road"
KNOWN = expert_questions()


@cache
def client() -> FlaskClient:
    return demo_app().test_client()


def post(body: dict[str, Any], status: int = 200) -> Any:
    response = client().post("/api/v1/resolve", json={"include": ["questions"], **body})
    assert response.status_code == status, response.get_data(as_text=True)
    return response.get_json()


def ids(answer: Any) -> list[str]:
    return [question["id"] for question in answer["questions"]["questions"]]


def test_what_the_schemas_name_is_what_there_is() -> None:
    assert set(CALLERS) == {caller.value for caller in Caller}
    assert set(STOPPED) == {reason.value for reason in Stopped}


def test_questions_come_only_when_asked_for_and_where_the_caller_is_is_read() -> None:
    assert "questions" not in post({"text": TEXT, "include": []})
    answer = post({"text": TEXT})
    check("Resolve", answer)
    asked = answer["questions"]
    assert (asked["caller"], asked["stopped"], asked["said"], asked["offer_unlisted"]) == ("away", "", "", "")
    assert "do not send them nearer" in asked["advice"]
    assert 1 <= len(asked["questions"]) <= 3
    for question in asked["questions"]:
        assert question["cannot_tell"] == "cannot_tell"
        assert question["why"]
        assert bool(question["options"]) is (question["id"] != "name")
    beside = post({"text": TEXT, "caller": "beside"})
    assert beside["questions"]["caller"] == "beside"


def test_with_nothing_said_there_is_something_to_ask() -> None:
    answer = post({"text": ""})
    assert answer["candidates"] == []
    assert ids(answer)


def test_an_answer_is_a_cue_and_its_question_does_not_return() -> None:
    answer = post({"text": TEXT, "answers": {"roof": "rails", "handles": "cannot_tell"}})
    added = [cue for cue in answer["cues"] if cue["origin"] == "given"]
    assert [(cue["attribute"], cue["values"], cue["heard"]) for cue in added] == [
        ("roof", ["rails"], "rails along both sides")
    ]
    given = post({"text": TEXT, "cues": [{"attribute": "roof", "values": ["rails"]}]})
    assert answer["candidates"] == given["candidates"], "one scoring function"
    assert not {"roof", "handles"} & set(ids(answer))


def test_a_name_is_answered_in_the_callers_words() -> None:
    answer = post({"text": TEXT, "answers": {"name": "Garvandine, I think"}})
    assert [(cue["attribute"], cue["values"]) for cue in answer["cues"] if cue["origin"] == "given"] == [
        ("name", ["garvandine"])
    ]
    assert answer["candidates"][0]["title"].startswith("Garvandine")
    unsure = post({"text": TEXT, "answers": {"name": "no idea"}})
    assert all(cue["origin"] == "read" for cue in unsure["cues"])
    assert "name" not in ids(unsure)


def test_an_answer_takes_the_place_of_a_guess() -> None:
    guessed = post({"text": "no idea, could be a van, port left rear"})
    assert [(cue["label"], cue["doubt"]) for cue in guessed["cues"] if cue["attribute"] == "body"] == [
        ("perhaps body van", "guess")
    ]
    answer = post({"text": "no idea, could be a van, port left rear", "answers": {"body": "pickup"}})
    assert [(cue["label"], cue["origin"]) for cue in answer["cues"] if cue["attribute"] == "body"] == [
        ("body pickup", "corrected")
    ]


def test_after_three_there_is_an_offer_instead() -> None:
    answers = {"roof": "cannot_tell", "size": "large", "doors": "4"}
    asked = post({"text": TEXT, "answers": answers})["questions"]
    assert (asked["questions"], asked["stopped"], asked["offer_unlisted"]) == ([], "asked", UNLISTED)


def test_somebody_inside_a_burning_vehicle_is_asked_nothing() -> None:
    asked = post({"text": "pickup, smoke coming out, I'm in it", "caller": "inside"})["questions"]
    assert (asked["questions"], asked["stopped"]) == ([], "nothing_safe")
    assert "get out" in asked["advice"]
    assert "get out" in asked["said"]
    far = post({"text": "pickup, smoke coming out", "caller": "beside"})
    needs = [KNOWN.by_id[id_].needs for id_ in ids(far)]
    assert needs
    assert all({need.value for need in each} & {"far", "known"} for each in needs)


def test_not_this_vehicle_makes_it_far_less_likely_and_not_impossible() -> None:
    body = {"text": "Garvandine pickup", "limit": 200}
    before = {entry["code"]: entry["probability"] for entry in post(body)["candidates"]}
    code = next(iter(before))
    answer = post({**body, "excluded": [code.lower().replace("-", "")], "include": ["why"]})
    check("Resolve", answer)
    after = {entry["code"]: entry for entry in answer["candidates"]}
    assert 0 < after[code]["probability"] < before[code] / 4
    assert "not this vehicle" in after[code]["why"]
    assert [entry["code"] for entry in answer["excluded"]] == [code]
    assert answer["excluded"][0]["title"]
    total = sum(entry["probability"] for entry in answer["candidates"])
    assert abs(total + answer["others"] + answer["unlisted"]["probability"] - 1) < 1e-9
    assert all(cue["attribute"] != "record" for cue in answer["cues"])


def test_not_this_vehicle_alone_lists_nothing() -> None:
    code = post({"text": "Garvandine pickup"})["candidates"][0]["code"]
    assert post({"text": "", "excluded": [code]})["candidates"] == []


@pytest.mark.parametrize(
    ("body", "said", "cure"),
    [
        ({"answers": {"wheels": "4"}}, "no question 'wheels'", "tailpipe"),
        ({"answers": {"roof": "blue"}}, "no answer 'blue'", "rails"),
        ({"answers": {"name": " "}}, "'name'", "as heard"),
        ({"excluded": ["QK7"]}, "'QK7' is not a record code", "six characters"),
        ({"caller": "upstairs"}, "'upstairs'", "inside"),
        ({"answers": ["roof"]}, "Not an object", "tailpipe"),
        ({"answers": {"roof": None}}, "Null is not an answer", "tailpipe"),
        ({"answers": {"name": "x" * 61}}, "Longer than 60", "object"),
        ({"excluded": "QK7-M3M"}, "Not a list", "record codes"),
        ({"excluded": [7]}, "Not text", "record codes"),
    ],
)
def test_what_does_not_fit_is_refused_with_a_cure(body: dict[str, Any], said: str, cure: str) -> None:
    problem = post({"text": "van", **body}, status=400)
    assert said in str(problem)
    assert cure in str(problem)


def test_the_service_refuses_by_itself() -> None:
    for wrong in (
        Answers({"roof": "blue"}),
        Answers(excluded=("7",)),
        Answers(caller="up"),
        Answers({"name": "x" * 61}),
    ):
        with pytest.raises(BadInput):
            check_answers(wrong)
    check_answers(Answers({"roof": "rails", "name": "Ostrel", "doors": "cannot_tell"}, (CODE,), "crew"))
    assert LONGEST_ANSWER == 60
