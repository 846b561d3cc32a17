"""Negation, hedges, alternatives, corrections, questions, other vehicles."""

import pytest

from tests.unit.reading_cases import said


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("not a van", {"body!=van"}),
        ("it isn't electric", {"propulsion!=battery"}),
        ("not a van or a pickup", {"body!=pickup,van"}),
        ("neither white nor silver", {"colour!=silver", "colour!=white"}),
        ("no grille but an exhaust pipe", {"front_face=closed_panel", "tailpipe=yes"}),
        ("port isn't on the left", {"port_place!=left||"}),
        ("not a van, it's a pickup", {"body!=van", "body=pickup"}),
        ("never had an exhaust", {"tailpipe=none"}),
    ],
)
def test_negation(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("maybe a van", {"body=van?"}),
        ("a van maybe", {"body=van?"}),
        ("I think it's white", {"colour=white?"}),
        ("white van, I think", {"colour=white?", "body=van?"}),
        ("could be electric", {"propulsion=battery??"}),
        ("no idea, a hatchback?", {"body=hatchback??"}),
        ("looked like a hatchback, white", {"body=hatchback?", "colour=white"}),
        ("white, maybe a van", {"colour=white", "body=van?"}),
        ("a white van. not sure what model", {"colour=white", "body=van"}),
        ("white van?", {"colour=white?", "body=van?"}),
        ("maybe white. yes, white", {"colour=white"}),
    ],
)
def test_hedges(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("blue or black", {"colour=black,blue"}),
        ("blue or maybe black", {"colour=black,blue?"}),
        ("blue/black van", {"colour=black,blue", "body=van"}),
        ("a van or a pickup", {"body=pickup,van"}),
        ("red, white or blue", {"colour=blue,red,white"}),
        ("port left or right rear", {"port_place=left|rear|,right|rear|"}),
        ("Velorn or Kestrin", {"name=kestrin,velorn"}),
    ],
)
def test_alternatives(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("port left no wait right", {"port_place=right||"}),
        ("port left, sorry I mean right, rear", {"port_place=right|rear|"}),
        ("port left rear, no, right rear", {"port_place=right|rear|"}),
        ("blue, no, green", {"colour=green"}),
        ("red or maybe orange, no wait, yellow", {"colour=yellow"}),
        ("it's a van, no it's a pickup", {"body=pickup"}),
        ("white van. correction: silver van", {"colour=silver", "body=van"}),
        ("a Velorn, scratch that, a Kestrin", {"name=kestrin"}),
        ("sorry, it's a white van", {"colour=white", "body=van"}),
        ("actually quite a big van", {"size=large", "body=van"}),
    ],
)
def test_corrections(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("what colour - white", {"colour=white"}),
        ("what colour? white. where's the port? left rear", {"colour=white", "port_place=left|rear|"}),
        ("is it a van? yes", {"body=van"}),
        ("is it a van? no, a pickup", {"body!=van", "body=pickup"}),
        ("is it a hybrid? don't know", set()),
        ("is it electric?", set()),
        ("is it a van, no, it's a pickup", {"body=pickup"}),
        ("is it blue or black? black", {"colour=black"}),
        ("bus? no a van", {"body!=bus", "body=van"}),
        ("white van?", {"colour=white?", "body=van?"}),
        ("don't know if there's fire", set()),
        ("no idea what colour, a van", {"body=van"}),
    ],
)
def test_questions(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("white van hit by a red bus", {"colour=white", "body=van", "scene=damage", "B:colour=red", "B:body=bus"}),
        (
            "silver estate, crashed into a blue lorry",
            {"colour=silver", "body=estate", "scene=damage", "B:colour=blue", "B:body=lorry"},
        ),
        ("parked next to a blue van, ours is red", {"colour=red", "B:colour=blue", "B:body=van"}),
    ],
)
def test_looks_of_another_vehicle_are_not_this_ones(text: str, cues: set[str]) -> None:
    assert said(text) == cues
