"""The desk's answer: steps for what is known, in the scene of the words and as it was put right."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from catalog.app import create_app
from catalog.config import Settings
from catalog.errors import BadInput
from catalog.services.desk import SceneSaid, desk_answer, general_steps
from catalog.services.house import House, open_house
from catalog.services.resolving import Description
from catalog.web.steps_shown import steps_shown

FIRE = "white pickup, port left rear, smoke"


@pytest.fixture(scope="module")
def house(demo_data: Path) -> Iterator[House]:
    opened = open_house(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data)}))
    yield opened
    opened.engine.dispose()


def test_steps_for_any_vehicle_from_the_first_keystroke(house: House) -> None:
    found = desk_answer(house, Description("w"), SceneSaid())
    assert found.steps.kind == "any_vehicle"
    assert found.steps.steps[0].phase == "approach"


def test_steps_follow_what_was_answered_and_ruled_out(house: House) -> None:
    wide = desk_answer(house, Description("brantock"), SceneSaid())
    assert len(wide.steps.vehicles) > 1
    first = wide.steps.vehicles[0].code
    from catalog.resolve.answering.asked import Answers

    without = desk_answer(house, Description("brantock", answers=Answers(excluded=(first,))), SceneSaid())
    assert without.steps.vehicles[0].code != first


def test_the_scene_put_right_reaches_the_steps_and_the_port(house: House) -> None:
    said = desk_answer(house, Description(FIRE), SceneSaid())
    assert said.scene["fire"] == "yes"
    assert said.port_ruled_out
    assert "plug" not in {step.key for step in said.steps.steps}
    right = desk_answer(house, Description(FIRE), SceneSaid({"fire": "no"}))
    assert (right.scene["fire"], right.as_said["fire"], right.port_ruled_out) == ("no", "yes", False)
    with pytest.raises(BadInput):
        desk_answer(house, Description(FIRE), SceneSaid({"rain": "yes"}))


def test_two_branches_are_called_by_their_vehicles_since_letters_are_those_of_the_call(house: House) -> None:
    found = desk_answer(house, Description("brantock"), SceneSaid())
    shown = steps_shown(found.steps)
    assert found.steps.kind == "two_branches"
    lines = [line.text for phase in shown.phases for step in phase.steps for line in (*step.at_once, *step.more)]
    assert not [text for text in lines if text.startswith(("A: ", "B: "))]
    names = [vehicle.title for vehicle in found.steps.vehicles]
    assert any(text.startswith(name) for text in lines for name in names)
    assert not [step.only_if for phase in shown.phases for step in phase.steps if "it is A" in step.only_if]


def test_every_sentence_of_the_steps_stands_on_their_page(demo_data: Path) -> None:
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data)}))
    html = app.test_client().get("/steps").text
    house: House = app.extensions["chockbook"]
    for step in general_steps(house, SceneSaid()).steps:
        for text in (step.do, *(line.text for line in step.lines), *step.sources):
            assert text.replace("'", "&#39;") in html, text
    house.engine.dispose()


@pytest.mark.parametrize("path", ["/steps", "/records/QPW-TF3/steps"])
def test_steps_on_pages_follow_the_scene_by_address_and_by_form(demo_data: Path, path: str) -> None:
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(demo_data)}))
    client = app.test_client()
    by_form = client.post(path, data={"scene": "fire=yes"})
    by_address = client.get(f"{path}?scene=fire%3Dyes")
    assert by_form.status_code == by_address.status_code == 200
    plan, known, addressed = (
        answer.text.split("<main", 1)[1].split("</main>")[0] for answer in (client.get(path), by_form, by_address)
    )
    assert known != plan
    assert known == addressed
    assert client.get(f"{path}?scene=rain%3Dyes").status_code == 400
    app.extensions["chockbook"].engine.dispose()


def test_without_a_catalogue_the_desk_has_the_steps_in_the_scene(tmp_path: Path) -> None:
    app = create_app(Settings.from_environment({"CHOCKBOOK_DATA": str(tmp_path)}))
    answer = app.test_client().post("/desk", data={"said": "van", "scene": "fire=yes"})
    assert answer.status_code == 503
    assert 'id="step-1"' in answer.text
    app.extensions["chockbook"].engine.dispose()
