"""Two vehicles in one description: whose each thing said is."""

import pytest

from tests.unit.reading_cases import said

VAN, ESTATE = {"colour=white", "body=van"}, {"B:colour=red", "B:body=estate"}


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("it's been hit by a lorry, a big red one", {"B:body=lorry", "B:colour=red", "B:size=large", "scene=damage"}),
        (
            "hit by another car, a red estate. ours is a blue hatch",
            {"B:body=estate", "B:colour=red", "body=hatchback", "colour=blue", "scene=damage"},
        ),
        ("the other car's white, a saloon. ours is a van", {"B:body=saloon", "B:colour=white", "body=van"}),
        ("the car in front is a blue bus", {"B:body=bus", "B:colour=blue"}),
        (
            "the one behind is a white van, port left rear on ours",
            {"B:body=van", "B:colour=white", "port_place=left|rear|"},
        ),
        (
            "white hatch being towed by a blue pickup",
            {"colour=white", "body=hatchback", "scene=towing", "B:colour=blue", "B:body=pickup"},
        ),
        (
            "between a bus and a lorry, small red hatch",
            {"B:body=bus,lorry", "body=hatchback", "colour=red", "size=small"},
        ),
    ],
)
def test_another_vehicle_is_kept_apart(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        (
            "silver estate hit by a blue bus, bus driver's hurt",
            {"colour=silver", "body=estate", "scene=damage", "B:colour=blue", "B:body=bus", "B:scene=casualty"},
        ),
        (
            "silver estate hit by a blue bus, it's on its side",
            {"colour=silver", "body=estate", "scene=damage", "scene=on_side", "B:colour=blue", "B:body=bus"},
        ),
    ],
)
def test_the_subject_of_a_clause_says_whose_it_is(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize("text", ["a white van and a red estate", "one white van, one red estate"])
def test_of_two_equals_the_first_is_asked_about(text: str) -> None:
    assert said(text) == VAN | ESTATE


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("a white van and a red estate, it's the estate that's electric", {"propulsion=battery"}),
        ("two cars, a white van, a red estate, the estate is on fire", {"scene=fire"}),
    ],
)
def test_unless_something_says_that_it_is_the_second(text: str, more: set[str]) -> None:
    assert said(text) == {"B:colour=white", "B:body=van", "colour=red", "body=estate"} | more


def test_the_one_asked_about_may_be_the_one_that_was_hit() -> None:
    text = "a blue bus has hit a silver estate, the estate is the electric one"
    assert {"B:body=bus", "B:colour=blue", "body=estate", "colour=silver"} <= said(text)


@pytest.mark.parametrize(
    "text", ["white van and a flap at the back", "a van with a tray and a red stripe", "van or a bus"]
)
def test_one_vehicle_stays_one(text: str) -> None:
    assert not any(cue.startswith("B:") for cue in said(text))
