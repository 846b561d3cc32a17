"""The steps over the demo catalogue: by code, by description, for any vehicle; on the terminal and by API."""

import json
from pathlib import Path
from typing import Any

import pytest

from catalog.cli.main import run
from catalog.domain.cautions import DEMO_MARK, FULL, LIKELY
from tests.integration.api_demo import demo_app
from tests.integration.test_api import check

pytestmark = pytest.mark.usefixtures("served_demo")

NOSE_PORT, LEFT_LOOP, GONE_WORDS = "76R-MJZ", "9JT-WV2", "DO NOT USE"


def asked(**given: Any) -> Any:
    response = demo_app().test_client().post("/api/v1/steps", json=given)
    assert response.status_code == 200, response.get_data(as_text=True)
    answer = response.get_json()
    check("Steps", answer)
    return answer


def keys(answer: Any) -> list[str]:
    return [step["key"].split(":")[0] for step in answer["steps"]]


def test_nothing_known_is_the_steps_for_any_vehicle() -> None:
    answer = asked()
    assert (answer["kind"], answer["vehicles"], answer["scene"]) == ("any_vehicle", [], [])
    assert [step["number"] for step in answer["steps"]] == list(range(1, len(answer["steps"]) + 1))
    assert keys(answer).index("chock") < keys(answer).index("plug_any")
    assert {caution for step in answer["steps"] for caution in step["cautions"]} <= {
        warning["key"] for warning in answer["warnings"]
    }
    assert all(caution in answer["cautions"] for caution in (DEMO_MARK, *FULL))


def test_a_known_vehicle_in_a_known_scene() -> None:
    answer = asked(codes=[NOSE_PORT.lower()], scene={"fire": "no", "slope": "yes"}, carried=["type2"])
    assert answer["kind"] == "one_vehicle"
    assert [vehicle["code"] for vehicle in answer["vehicles"]] == [NOSE_PORT]
    plug = answer["steps"][keys(answer).index("plug")]
    assert "no fire or smoke" not in plug["only_if"]
    assert "not in water" in plug["only_if"]
    assert plug["chance"] is not None
    assert any(line["part"] == "not" for line in plug["lines"])
    assert LIKELY in answer["cautions"]
    burning = asked(codes=[NOSE_PORT], scene={"fire": "yes"})
    assert "port_alone" in keys(burning)
    assert not {"plug", "port_open"} & set(keys(burning))


def test_two_named_vehicles_are_two_branches_with_the_sight_that_decides() -> None:
    answer = asked(codes=[NOSE_PORT, LEFT_LOOP])
    assert answer["kind"] == "two_branches"
    assert [branch["letter"] for branch in answer["branches"]] == ["A", "B"]
    assert all(branch["sight"] for branch in answer["branches"])
    assert answer["branches"][0]["sight"] != answer["branches"][1]["sight"]
    telling = answer["steps"][keys(answer).index("tell_apart")]
    assert [line["text"][:2] for line in telling["lines"] if line["part"] == "how"] == ["A:", "B:"]
    assert any(step["differs"] for step in answer["steps"])


def test_a_description_brings_its_scene_and_what_is_sent_overrides_it() -> None:
    text = "Muldrake electric pickup on its roof, flames under it"
    answer = asked(text=text)
    known = {entry["key"]: entry["said"] for entry in answer["scene"]}
    assert known == {"fire": "yes", "on_roof": "yes"}
    assert answer["vehicles"]
    assert answer["unlisted"]["probability"] > 0
    assert "port_alone" in keys(answer)
    switched = asked(text=text, scene={"fire": "no"})
    assert {"key": "fire", "said": "no", "words": "no fire or smoke"} in switched["scene"]


def test_a_description_that_tells_nothing_apart_is_any_vehicle() -> None:
    answer = asked(text="somebody is hurt")
    assert answer["kind"] == "any_vehicle"
    assert "casualty" in {entry["key"] for entry in answer["scene"]}


@pytest.mark.parametrize(
    ("given", "status", "words"),
    [
        ({"codes": ["ZZZ-ZZQ"]}, 404, "code"),
        ({"scene": {"rain": "yes"}}, 400, "rain"),
        ({"scene": {"fire": "perhaps"}}, 400, "not known here"),
        ({"carried": ["type9"]}, 400, "not known here"),
        ({"code": NOSE_PORT}, 400, "Unknown field"),
        ({"text": "x" * 2001}, 400, "Longer"),
    ],
)
def test_what_cannot_be_asked_is_refused_with_a_cure(given: dict[str, Any], status: int, words: str) -> None:
    response = demo_app().test_client().post("/api/v1/steps", json=given)
    assert response.status_code == status
    assert words in response.get_data(as_text=True)


def test_a_record_that_must_not_be_used_has_no_steps() -> None:
    client = demo_app().test_client()
    gone = next(
        entry["code"] for entry in client.get("/api/v1/records?limit=500").get_json()["records"] if entry["withdrawn"]
    )
    refused = client.post("/api/v1/steps", json={"codes": [gone]})
    assert refused.status_code == 404
    assert GONE_WORDS in refused.get_json()["detail"]


def typed(*arguments: str, data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(data))
    status = run(["steps", *arguments])
    return status, *capsys.readouterr()


def test_on_the_terminal(demo_data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def steps(*arguments: str) -> Any:
        return typed(*arguments, data=demo_data, monkeypatch=monkeypatch, capsys=capsys)

    status, page, _ = steps(NOSE_PORT, "--scene", "fire=no", "--scene", "water=no", "--carried", "type2")
    assert status == 0
    assert page.startswith(DEMO_MARK)
    assert page.index("Chock a wheel") < page.index("Power off.") < page.index("Plug a coupler in")
    assert "ONLY IF" in page
    assert "does not cut high voltage off" in " ".join(page.split())
    assert max(map(len, page.splitlines())) <= 80
    _, short, _ = steps(NOSE_PORT, "--short")
    assert len(short) < len(page)
    assert "If somebody is dying" in short  # what cannot be told yet is never cut short
    _, document, _ = steps("--json", "--scene", "fire=yes")
    assert json.loads(document)["kind"] == "any_vehicle"
    for wrong, words in ((("--scene", "fire"), "says nothing"), (("--scene", "rain=yes"), "no field")):
        status, _, told = steps(*wrong)
        assert status == 2
        assert words in told
    status, page, _ = steps(NOSE_PORT, LEFT_LOOP, "--carried", "none")
    assert "A: " in page
    assert "Not in this catalogue" in page


def test_a_site_has_its_own_steps_and_a_faulty_file_takes_none_away(
    demo_data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    local = tmp_path / "steps.json"
    monkeypatch.setenv("CHOCKBOOK_LOCAL_STEPS", str(local))

    def page() -> str:
        out = typed("--scene", "enclosed=yes", data=demo_data, monkeypatch=monkeypatch, capsys=capsys)[1]
        return " ".join(out.split())

    rule = {"id": "fans", "phase": "approach", "order": 23, "when": {"is": ["enclosed", "yes"]}, "source": ["site"]}
    document: dict[str, Any] = {
        "rules": [rule],
        "steps": {"fans": {"do": "Ask control for the tunnel fans."}},
        "sources": {"site": "local procedure 12"},
    }
    assert "Local steps are left out (steps.json): No such file" in page()
    local.write_text(json.dumps(document), encoding="utf-8")
    assert "Ask control for the tunnel fans." in page()
    local.write_text(json.dumps({**document, "without": ["chock"]}), encoding="utf-8")
    assert "Local steps are left out (steps.json): without is not one of" in page()
    assert "Chock a wheel, both sides." in page()
    local.write_text("[]", encoding="utf-8")
    assert "Local steps are left out" in page()
