"""Sounds, what is burnt and what is plugged in, doors by side, vehicles beside ours, badges of one letter."""

import pytest

from tests.unit.reading_cases import said

SILENT, ENGINE = "propulsion=battery,fuel_cell?", "propulsion=combustion,hybrid,plug_in_hybrid?"


@pytest.mark.parametrize(
    ("text", "cue"),
    [
        ("it never made a sound", SILENT),
        ("all you hear is the tyres", SILENT),
        ("you can't hear it", SILENT),
        ("the motor is still turning", ENGINE),
        ("silent at first, then the engine kicks in", "propulsion=hybrid,plug_in_hybrid?"),
    ],
)
def test_sounds_say_what_drives_it(text: str, cue: str) -> None:
    assert said(text) == {cue}


@pytest.mark.parametrize("text", ["he made no sound", "the line went quiet", "can't hear you"])
def test_other_silences_say_nothing(text: str) -> None:
    assert not any(cue.startswith("propulsion") for cue in said(text))


@pytest.mark.parametrize("text", ["exhaust at the back, charging socket on the left", "petrol as well, type 2 socket"])
def test_what_burns_and_is_plugged_in_is_a_plug_in_hybrid(text: str) -> None:
    assert "propulsion=plug_in_hybrid?" in said(text)


@pytest.mark.parametrize("text", ["petrol, flap left rear", "an electric van, no exhaust, type 2 socket"])
def test_a_flap_alone_or_no_exhaust_does_not_make_one(text: str) -> None:
    assert not any("plug_in_hybrid" in cue for cue in said(text))


@pytest.mark.parametrize(
    ("text", "doors"),
    [
        ("four doors and a tailgate", "5"),
        ("two doors each side", "4"),
        ("two doors each side plus barn doors", "5"),
        ("four doors, a boot lid", "4"),
        ("four door pickup, drop tailgate", "4"),
    ],
)
def test_doors_by_side_and_at_the_back(text: str, doors: str) -> None:
    assert f"doors={doors}" in said(text)


def test_doors_down_the_street_are_none() -> None:
    assert not said("five doors down from us")


@pytest.mark.parametrize(
    ("text", "own", "other"),
    [
        (
            "white van, a black pickup stopped right behind it",
            {"colour=white", "body=van"},
            {"B:colour=black", "B:body=pickup"},
        ),
        (
            "silver saloon. Beside it stands a red bus",
            {"colour=silver", "body=saloon"},
            {"B:colour=red", "B:body=bus"},
        ),
        (
            "two vehicles. First is a grey estate. Second is a blue bus",
            {"colour=grey", "body=estate"},
            {"B:colour=blue", "B:body=bus"},
        ),
    ],
)
def test_what_stands_beside_ours_is_another_vehicle(text: str, own: set[str], other: set[str]) -> None:
    assert said(text) == own | other


@pytest.mark.parametrize(
    ("text", "years"),
    [
        ("'23 I reckon", "2023"),
        ("early this decade", "2020-2023"),
        ("late last decade", "2017-2019"),
        ("from 2014", "2014"),
    ],
)
def test_years_as_people_speak_of_them(text: str, years: str) -> None:
    assert {cue.rstrip("?") for cue in said(text)} == {f"years={years}"}
