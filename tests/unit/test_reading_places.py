"""Charge-port places: side, end, level, whose they are, from where they were seen."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.resolve.reading import port_places
from tests.unit.reading_cases import said


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("port left rear", "left|rear|"),
        ("rear left port", "left|rear|"),
        ("flap by the front wheel on the driver's side", "driver|front_quarter|"),
        ("little flap above the rear offside wheel", "right|rear_quarter|"),
        ("charge port in the left front wing just behind the wheel", "left|front_quarter|"),
        ("port in the rear left wing", "left|rear_quarter|"),
        ("socket in the nose", "|front_face|"),
        ("plugs in at the tailgate", "|rear_face|"),
        ("port in the middle of the front bumper", "centre|front_face|"),
        ("port under the driver's side mirror", "driver|front_quarter|"),
        ("charge flap high up on the rear pillar, passenger side", "passenger|rear_quarter|high"),
        ("plugs in on the right, low down, behind the front wheel", "right|front_quarter|low"),
        ("port, left rear", "left|rear|"),
        ("left rear. port.", "left|rear|"),
        ("port on the left. towards the back", "left|rear|"),
        ("port at the front and on the left", "left|front|"),
        ("port front centre", "centre|front|"),
        ("charge port at its 7 o'clock", "left|rear|"),
        ("PORT RR RT", "right|rear|"),
        ("PORT D/S FRT", "driver|front|"),
        ("port p/s rear", "passenger|rear|"),
        ("port LHS rear quarter", "left|rear_quarter|"),
    ],
)
def test_place(text: str, place: str) -> None:
    assert said(text) == {f"port_place={place}"}


@pytest.mark.parametrize(
    ("text", "keeps_left", "keeps_right"),
    [
        ("nsr flap", "left|rear|", "right|rear|"),
        ("port offside front", "right|front|", "left|front|"),
        ("port on the kerb side", "left||", "right||"),
        ("port on the driver's side", "driver||", "driver||"),
        ("port OSF", "right|front|", "left|front|"),
    ],
)
def test_only_nearside_offside_and_kerb_depend_on_the_side_traffic_keeps(
    text: str, keeps_left: str, keeps_right: str
) -> None:
    assert said(text, "left") == {f"port_place={keeps_left}"}
    assert said(text, "right") == {f"port_place={keeps_right}"}


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("port on the left as you look at it", "right||?"),
        ("port front left as you face it", "right|front|"),
        ("looking at it from the front, the port is on the left", "right||"),
        ("port left, looking at it from behind", "left||"),
        ("standing at the nose, facing it: charge door on my right", "left||"),
        ("port front left as you sit in it", "left|front|"),
        ("port rear left as you look at it", "left|rear|?"),
        ("port on my left", "left||?"),
        ("port nearside as you look at it", "left||"),
    ],
)
def test_viewpoint(text: str, place: str) -> None:
    # Where the caller stands is a thing of the scene too.
    assert said(text) - {"scene=caller_beside"} == {f"port_place={place}"}


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("left rear", {"port_place=left|rear|?"}),
        ("white pickup, left rear", {"colour=white", "body=pickup", "port_place=left|rear|?"}),
        ("left rear crushed", {"scene=damage_left", "scene=damage_rear", "other_place=left|rear|"}),
        (
            "hit on left front port right rear",
            {"scene=damage_left", "scene=damage_front", "other_place=left|front|", "port_place=right|rear|"},
        ),
        (
            "front left smashed, port at rear right",
            {"scene=damage_left", "scene=damage_front", "other_place=left|front|", "port_place=right|rear|"},
        ),
        ("it's been hit, front offside", {"scene=damage_right", "scene=damage_front", "other_place=right|front|"}),
        ("child in the rear", set()),
        ("charge flap rear left over the wheel", {"port_place=left|rear_quarter|"}),
        ("smoke from the rear", {"scene=smoke", "other_place=|rear|"}),
        ("white van on the left", {"colour=white", "body=van"}),
        ("left rear door won't open", set()),
        ("port at the back on my left, above the wheel", {"port_place=left|rear_quarter|?"}),
        (
            "VELORN left of the tailgate, TAVRIN right, white van",
            {"name=velorn", "name=tavrin", "colour=white", "body=van"},
        ),
        ("exhaust in the rear bumper, right", {"tailpipe=yes"}),
        ("fire at the rear, port front", {"scene=fire", "other_place=|rear|", "port_place=|front|"}),
        ("light strip across the back", {"rear_lamps=strip"}),
        ("no grille at the front", {"front_face=closed_panel"}),
        ("gear lever on the left", {"selector=lever"}),
        ("on its roof, port left rear", {"scene=on_roof", "port_place=left|rear|?"}),
        ("no port on the left, it's on the right", {"port_place!=left||", "port_place=right||"}),
        ("one port each side at the front", {"port_place=left|front|", "port_place=right|front|"}),
        ("port left rear and another at the front right", {"port_place=left|rear|", "port_place=right|front|"}),
        ("it says hybrid on the back", {"propulsion=hybrid,plug_in_hybrid"}),
        ("charger plugged in at the front left", {"port_place=left|front|", "scene=charger_attached"}),
        ("plugs in where you'd put petrol", {"port_place=|rear_quarter|?"}),
    ],
)
def test_whose_place_it_is(text: str, cues: set[str]) -> None:
    assert said(text) == cues


SPANS = st.lists(st.tuples(st.integers(0, 30), st.integers(31, 33)), max_size=25)


@given(SPANS, SPANS)
def test_ranges_put_together_are_those_of_both_in_order(
    one: list[tuple[int, int]], other: list[tuple[int, int]]
) -> None:
    first, second = tuple(sorted(set(one))), tuple(other)
    assert port_places._together(first, second) == tuple(sorted({*first, *second}))
