"""Corrections and slips: what has changed is said and asked back, and what nobody said reads so."""

from dataclasses import replace

import pytest

from catalog.domain.facts import stated
from catalog.domain.places import Place
from catalog.plan.brief import BriefInput, Data, HandOver, Temperature, Tick, brief_plan, compose, slip, typed_fields
from catalog.plan.brief.spoken import spoken_words
from catalog.plan.scene import Scene
from catalog.plan.several import Field
from tests.brief_situations import CORRECTIONS, SITUATIONS, Corrected
from tests.plan_cases import demo_records
from tests.unit.test_brief_radio import asked_for, scene_of


@pytest.mark.parametrize("corrected", CORRECTIONS, ids=lambda each: each.name)
def test_a_correction_opens_with_it_keeps_the_limits_and_asks_for_read_back(corrected: Corrected) -> None:
    brief = corrected.brief()
    assert len(brief.radio_text) <= 320
    assert spoken_words(brief.radio_text) <= 50
    assert brief.radio_text.startswith("CORRECTION.") == bool(brief.changes)
    if brief.changes:
        assert f"Vehicle {brief.letter}." in brief.radio[0]
        assert any(line.startswith("Read back") for line in brief.radio)
        assert brief.full[0].key == "changed"
        assert len(brief.full[0].lines) == len(brief.changes)


def test_every_cut_place_and_wait_of_the_demo_can_be_corrected_whole() -> None:
    """What was and what is now are both said, for the longest names and in any sampled scene."""
    longest = sorted(demo_records().items(), key=lambda each: -len(each[1].identity.title))[:40]
    for number, (code, record) in enumerate(longest):
        told = replace(SITUATIONS[2], vehicles={code: 1.0}, named=number % 2 == 0, letter="ABW"[number % 3])
        ways = record.items.get("cutoff.methods", ())
        for way in ways[-1:]:
            for path, fact in (
                (f"cutoff.methods[{way}].place", stated(Place("right", "rear_face", "low", "behind_plate"))),
                (f"cutoff.methods[{way}].wait", stated(1234)),
            ):
                sent = replace(told, scene={key: value.value for key, value in scene_of(number).values.items()})
                corrected = Corrected("", "", sent, {path: fact})
                brief = corrected.brief()
                assert len(brief.radio_text) <= 320, brief.radio_text
                assert spoken_words(brief.radio_text) <= 50, brief.radio_text
                if brief.changes:
                    assert "changed" not in brief.left_out, brief.radio_text


def test_another_vehicle_takes_nothing_over() -> None:
    brief = next(each for each in CORRECTIONS if each.name.startswith("54")).brief()
    assert [change.key for change in brief.changes] == ["vehicle"]
    assert "Take nothing from the earlier brief." in brief.radio_text
    assert "Ostravell" in brief.radio_text


def test_what_is_no_longer_stated_is_never_said_to_be_none() -> None:
    brief = next(each for each in CORRECTIONS if each.name.startswith("52")).brief()
    assert "now not stated: treat as live" in brief.radio_text


def test_a_slip_says_of_everything_that_nobody_said_it() -> None:
    made = slip(HandOver(SITUATIONS[0].asked()))
    for section in made:
        assert section.lines, section.key
        assert all(line.text for line in section.lines)
    silent = [line for section in made for line in section.lines if line.text == "not said"]
    assert {line.key for line in silent} >= set(typed_fields()) - {"restart"}
    assert all(line.state == "not_stated" for line in silent)


def test_a_slip_holds_what_was_ticked_and_typed_with_its_time() -> None:
    asked = SITUATIONS[9].asked()
    cut = next(step.key for step in asked.plan.plan.steps if step.id == "cut_fuse")
    made = {
        section.key: section.lines
        for section in slip(
            HandOver(
                asked, (Tick(cut, "done", "02:50"), Tick("chock", "cannot", "02:41")), {"water_used": "1,200 l"},
                (Temperature("02:55", "41 C at the sill"),),
            )
        )
    }  # fmt: skip
    assert any(line.text == "done, 02:50" and "Pull the fuse" in line.lead for line in made["cuts"])
    assert any(line.text == "could not be done, 02:41" for line in made["steps"])
    assert any(line.text == "1,200 l" for line in made["water"])
    assert [(line.lead, line.text) for line in made["temperatures"]] == [("02:55", "41 C at the sill")]
    assert any("Walking pace" in line.text for line in made["moving"])
    assert any("48 h" in line.text for line in made["fire_watch"])
    assert any("15 m (50 ft)" in line.text and "common practice" in line.text for line in made["outdoors"])
    assert any("Do not restart" in line.text for line in made["restart"])


def test_a_slip_takes_no_other_keys_and_no_other_ticks() -> None:
    with pytest.raises(ValueError, match="no part of a slip: colour"):
        HandOver(SITUATIONS[0].asked(), typed={"colour": "red"})
    with pytest.raises(ValueError, match="a step is not perhaps"):
        HandOver(SITUATIONS[0].asked(), (Tick("chock", "perhaps", "02:41"),))


def test_a_vehicle_has_a_letter() -> None:
    for letter in ("", "a", "AB", "Ä", "1"):
        with pytest.raises(ValueError, match="no letter"):
            BriefInput(letter, Data(1, "edition 1", demo=True), brief_plan(Field(()), Scene()))


def test_without_the_demo_nothing_says_demo() -> None:
    asked = replace(asked_for({"76R-MJZ": 1.0}, Scene(), 0), data=Data(14, "edition 14, 2026-03-02", demo=False))
    brief = compose(asked)
    assert "DEMO" not in brief.radio_text
    assert not any("DEMO" in warning for warning in brief.warnings)
    assert "DEMO" in compose(asked_for({"76R-MJZ": 1.0}, Scene(), 0)).warnings[0]


def test_two_possible_vehicles_go_by_name_and_never_by_the_letters_of_an_incident() -> None:
    told = next(each for each in SITUATIONS if each.name.startswith("19"))
    text = " ".join(line.text for section in compose(told.asked()).full for line in section.lines)
    assert "Ansgrove Wrenlow Electric 2017–2021: " in text
    assert "A: " not in text
    assert "it is A," not in text
    assert "it is A." not in text
