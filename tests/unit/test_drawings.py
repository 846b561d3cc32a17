"""Where drawings go: the numbers are those of the page or brief they stand on, and silence is said."""

import re
from functools import cache
from itertools import cycle

import pytest

from catalog.api.operations import OPERATIONS
from catalog.domain.documents import record_from_document
from catalog.domain.facts import State
from catalog.domain.record import Record
from catalog.draw.connectors import face_sketch, faces
from catalog.draw.icons import door_sketches, selector_sketches
from catalog.draw.model import POSTURES
from catalog.draw.outline import body_sketches
from catalog.draw.sketch import sketch_svg
from catalog.errors import BadInput
from catalog.plan.brief import BriefInput, Data, brief_plan, compose
from catalog.plan.brief.model import BriefVehicle
from catalog.plan.scene import UNKNOWN, Scene
from catalog.plan.several import Field, Possible
from catalog.plan.steps import plan_for
from catalog.plan.table import shipped_table
from catalog.services.drawing_paint import alone, paint
from catalog.services.drawings import Pointed, cut_points, plan_told, pointed_strip, posture_of, scene_in, steps_strip
from catalog.web.first import first_screen
from catalog.web.walk_round import walk_round
from schemas.drawings import LYING
from seed_demo.files import read_families

NUMBER = re.compile(r'data-number="(\d+)"')
CODES = ("QPW-TF3", "JT6-3M8", "7F2-TW2", "BX8-TGX")


@cache
def records() -> dict[str, Record]:
    return {code: record_from_document(document) for code, document in read_families().items()}


@pytest.mark.parametrize("posture", POSTURES)
def test_a_posture_is_said_by_its_scene_and_read_back(posture: str) -> None:
    assert posture_of(scene_in(posture)) == posture


def test_a_side_that_is_not_named_is_no_posture() -> None:
    """On its side, nobody says which: nothing is turned, and the drawing says that it is not said."""
    assert posture_of(UNKNOWN.having(on_side="yes")) == ""
    assert posture_of(UNKNOWN.having(left_down="no", right_down="no", on_roof="no")) == ""


def test_an_unknown_posture_is_refused_with_its_cure() -> None:
    with pytest.raises(BadInput) as caught:
        scene_in("upright")
    assert "left_down" in caught.value.cure


def test_the_api_takes_every_posture_and_its_example_is_one() -> None:
    assert {"", *LYING} == set(POSTURES)
    (operation,) = (one for one in OPERATIONS if one.name == "strip")
    assert operation.example["posture"] in LYING


@pytest.mark.parametrize("code", CODES)
def test_the_page_of_a_record_is_drawn_with_its_own_numbers(code: str) -> None:
    record = records()[code]
    first = first_screen(record, {})
    numbered = {step.number: step for step in (*first.motion, *first.doors, *first.cutoff) if step.number}
    made = walk_round(record, first, "", f"/records/{code}").strip
    drawn = {int(number) for number in NUMBER.findall(made.svg)}
    unplaced = {int(line.split(":")[0]) for line in made.no_place}
    assert drawn | unplaced == set(numbered)
    assert not drawn & unplaced
    for number in drawn:
        assert any(f": {number}" in line and numbered[number].title in line for line in made.twin), number


def test_a_place_nobody_states_is_named_and_not_drawn() -> None:
    record = records()["QPW-TF3"]
    made = pointed_strip(
        record, (Pointed(3, "solid", "Power off", ("motion.switch_place",)), Pointed(4, "ring", "Port"))
    )
    assert set(NUMBER.findall(made.svg)) == {"3"}
    assert made.no_place == ("4: Port",)


def test_the_postures_of_a_page_keep_what_else_its_address_says() -> None:
    record = records()["QPW-TF3"]
    made = walk_round(record, first_screen(record, {}), "roof", "/records/QPW-TF3?edition=1")
    assert [one.address for one in made.postures][:2] == [
        "/records/QPW-TF3?edition=1#walk",
        "/records/QPW-TF3?edition=1&posture=wheels#walk",
    ]
    assert [one.label for one in made.postures if one.here] == ["on its roof"]


@pytest.mark.parametrize("said", [{}, {"left_down": "yes", "fire": "no"}, {"fire": "yes"}])
def test_the_steps_a_brief_tells_are_those_it_was_made_of(said: dict[str, str]) -> None:
    """What is kept of a brief draws the same strip as the plan it was composed from."""
    record, scene = records()["QPW-TF3"], UNKNOWN.having(**said)
    possible = Possible("QPW-TF3", record, 1.0)
    several = brief_plan(Field([possible], 0.0), scene, lambda first, other: None, shipped_table())
    vehicle = BriefVehicle("QPW-TF3", "Quellorne Brantock", "pickup", record)
    brief = compose(BriefInput("A", Data(3, "edition 3", demo=True), several, (vehicle,), scene))
    told = plan_told(brief)
    assert [step.key for step in told.steps] == [step.key for step in several.plan.steps]
    assert [bool(step.only_if) for step in told.steps] == [bool(step.only_if) for step in several.plan.steps]
    assert [step.do for step in told.steps] == [step.do for step in several.plan.steps]


def test_every_way_is_a_cut_point_in_the_records_order() -> None:
    for record in records().values():
        made = cut_points(record)
        assert len(made) == len(record.items.get("cutoff.methods", ()))
        for each, item in zip(made, record.items.get("cutoff.methods", ()), strict=True):
            label = record.fact(f"cutoff.methods[{item}].label")
            if label.state is State.STATED:
                assert f"Label reads: {label.value}" in each.twin


def test_a_drawing_that_stands_alone_brings_paint_for_every_class() -> None:
    """An SVG path without a rule is painted black: a zone would look like a hole."""
    ruled = set(re.findall(r"\.([a-z][a-z0-9-]*)", paint()))
    drawn = [sketch_svg(face_sketch(one.key)) for one in faces()]
    drawn += [sketch_svg(sketch) for sketch in (*body_sketches(), *door_sketches(), *selector_sketches())]
    for record, lying in zip(records().values(), cycle(("left_down", "roof"))):
        drawn += [each.svg for each in cut_points(record)]
        for posture in ("", lying):
            made = steps_strip(record, plan_for(record, UNKNOWN), scene_in(posture))
            drawn += [made.svg, *(row.svg for row in made.legend)]
    used = {name for text in drawn for names in re.findall(r'class="([^"]+)"', text) for name in names.split()}
    # Groups and roots, which paint nothing themselves.
    assert used - ruled <= {"ring", "struck"}
    text = alone(drawn[0])
    assert text.count("xmlns=") == 1
    assert text.index("<style>") < text.index("<path")


def test_no_drawing_on_a_page_names_a_colour_or_a_style() -> None:
    for code in CODES:
        record = records()[code]
        made = steps_strip(record, plan_for(record, Scene()), Scene())
        for text in (made.svg, *(each.svg for each in cut_points(record))):
            assert not re.search(r'style=|#[0-9a-fA-F]{3}\b|fill="(?!url|none)|stroke="(?!url)', text)
