"""Places: zones tile the vehicle, words are the vehicle's, mirroring and axes turn back."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.domain.documents import place_from_document
from catalog.domain.facts import value_to_document
from catalog.domain.places import (
    END,
    LEVEL,
    SIDE,
    Place,
    Size,
    from_iso8855,
    from_j670,
    mirrored,
    point_in_zone,
    spot,
    to_iso8855,
    to_j670,
    words,
    zone_box,
    zone_centre,
)
from tests.strategies import Document, places

ZONES = [Place(side, end, level) for side, end, level in product(SIDE.keys, END.keys, LEVEL.keys)]
POINTS = st.tuples(*[st.integers(0, 1000)] * 3)
SIZES = st.builds(Size, st.integers(1000, 26000), st.integers(500, 3500), st.integers(800, 4500))


def test_the_zones_fill_the_vehicle_without_overlap() -> None:
    def volume(zone: Place) -> int:
        (x0, x1), (y0, y1), (z0, z1) = zone_box(zone)
        return (x1 - x0) * (y1 - y0) * (z1 - z0)

    assert sum(map(volume, ZONES)) == 1000**3
    assert all(
        any(a1 <= b0 or b1 <= a0 for (a0, a1), (b0, b1) in zip(zone_box(one), zone_box(other), strict=True))
        for one, other in product(ZONES, ZONES)
        if one != other
    )


@pytest.mark.parametrize("zone", ZONES, ids=str)
def test_a_zones_centre_lies_in_it(zone: Place) -> None:
    assert point_in_zone(Place(zone.side, zone.end, zone.level, at=zone_centre(zone)))


def test_left_is_the_vehicles_left() -> None:
    """y runs to the vehicle's right, so a larger y is further right, and x runs rearward."""
    assert zone_box(Place("left", "middle", "mid"))[1] < zone_box(Place("right", "middle", "mid"))[1]
    assert zone_box(Place("left", "front_face", "mid"))[0] < zone_box(Place("left", "rear_face", "mid"))[0]
    assert zone_box(Place("left", "middle", "under"))[2] < zone_box(Place("left", "middle", "roof"))[2]


@given(places())
def test_a_mirrored_place_is_on_the_other_side_and_turns_back(document: Document) -> None:
    place = place_from_document(document)
    other = mirrored(place)
    assert mirrored(other) == place
    assert (other.end, other.level, other.landmark) == (place.end, place.level, place.landmark)
    assert {place.side, other.side} in ({"left", "right"}, {"centre"})
    assert point_in_zone(other) == point_in_zone(place)


@given(places())
def test_a_place_keeps_its_stored_form(document: Document) -> None:
    assert value_to_document(place_from_document(document)) == document


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (Place("left", "rear_quarter", "mid"), "left rear quarter, mid height"),
        (Place("centre", "front_face", "low", "behind_badge"), "centre of the front face, low, behind the badge"),
        (Place("centre", "middle", "under"), "centre of the vehicle, underneath"),
        (Place("right", "middle", "roof", "roof_rail"), "right middle, roof, in the roof rail"),
    ],
)
def test_words(place: Place, said: str) -> None:
    assert words(place) == said


@given(POINTS, SIZES)
def test_axes_turn_back_to_the_same_permille(at: tuple[int, int, int], size: Size) -> None:
    """Half a permille of the smallest size is 0.25 mm, far above rounding errors."""
    assert from_iso8855(to_iso8855(at, size), size) == at
    assert from_j670(to_j670(at, size), size) == at


def test_a_spot_says_the_part_of_the_body_and_leaves_out_what_that_says_by_itself() -> None:
    assert spot(Place("left", "middle", "low", "in_pillar")) == "left middle pillar, low"
    assert spot(Place("right", "rear_quarter", "roof", "roof_rail")) == "right rear roof rail"
    assert spot(Place("left", "front_quarter", "mid", "in_sill")) == "left front sill, mid height"


@pytest.mark.parametrize(
    "place",
    [
        Place("centre", "middle", "roof", "roof_rail"),
        Place("left", "rear_face", "high", "in_pillar"),
        Place("left", "middle", "low", "under_seat"),
        Place("left", "middle", "low"),
    ],
)
def test_elsewhere_a_spot_is_said_whole(place: Place) -> None:
    assert spot(place) == words(place)
