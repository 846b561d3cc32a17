"""Each cue has a phrase that, read again, gives the same cue."""

from itertools import product

import pytest

from catalog.domain.places import LEVEL, SIDE
from catalog.resolve.cue import ANOTHER, ASKED, RANKING, SHOWN_TERMS, Cue, Doubt
from catalog.resolve.likelihood import terms_of
from catalog.resolve.reading.canonical import canonical
from tests.unit.reading_cases import reading

PUT_TOGETHER = ("name", "vin", "years", "port_place", "doors", "rows")
# What is rightly read beside it: a placed damage has a place, petrol is a kind of drive.
BESIDE = {
    "fuel": {"propulsion"},
    "roof": {"body"},
    "scene": {"other_place"},
    "port_cover": {"door_mechanism", "port_place"},
    "door_mechanism": {"port_cover", "port_place"},
}
VALUES = [
    (attribute, value)
    for attribute in (*RANKING, *SHOWN_TERMS)
    if attribute not in PUT_TOGETHER
    for value in SHOWN_TERMS.get(attribute) or terms_of(attribute)
    if (attribute, value) != ("fuel", "none")  # what a record says, never a caller
]


def _again(cue: Cue, *, beside: set[str] | None = None) -> None:
    phrase = canonical(cue)
    found = reading(phrase).cues
    assert cue.key in {other.key for other in found}, (phrase, found)
    assert {other.attribute for other in found} <= {cue.attribute, *(beside or ())}, (phrase, found)


@pytest.mark.parametrize(("attribute", "value"), VALUES)
def test_every_value_of_the_vocabulary(attribute: str, value: str) -> None:
    _again(Cue(attribute, (value,), (), ""), beside=BESIDE.get(attribute))


@pytest.mark.parametrize("attribute", ["port_place", "other_place"])
def test_every_place(attribute: str) -> None:
    ends = ("", "front", "front_face", "front_quarter", "middle", "rear_quarter", "rear_face", "rear")
    for side, end, level in product(("", *SIDE.keys, "driver", "passenger"), ends, ("", *LEVEL.keys)):
        # Levels, the middle and the centre are read of ports only.
        of_ports = level or end == "middle" or side == "centre"
        if (side or end) and not (attribute == "other_place" and of_ports):
            beside = {"scene"} if attribute == "other_place" else None
            _again(Cue(attribute, (f"{side}|{end}|{level}",), (), ""), beside=beside)


@pytest.mark.parametrize(
    ("attribute", "value"),
    [
        ("years", "2019"),
        ("years", "2019-2021"),
        ("doors", "4"),
        ("rows", "3"),
        ("name", "velorn"),
        ("name", "b*"),
        ("name", "*o"),
        ("name", "*ell*"),
        ("vin", "DEMKL2V4XRA000123"),
        ("vin", "X7K*"),
        ("vin", "*4421"),
        ("vin", "*KB7*"),
    ],
)
def test_numbers_and_names(attribute: str, value: str) -> None:
    _again(Cue(attribute, (value,), (), ""))


@pytest.mark.parametrize(
    "cue",
    [
        Cue("body", ("van",), (), "", denied=True),
        Cue("body", ("pickup", "van"), (), ""),
        Cue("colour", ("black", "blue"), (), "", doubt=Doubt.HEDGED),
        Cue("propulsion", ("battery",), (), "", doubt=Doubt.GUESS),
        Cue("colour", ("red",), (), "", vehicle=ANOTHER),
        Cue("body", ("bus",), (), "", vehicle=ANOTHER),
    ],
)
def test_denial_doubt_alternatives_and_the_other_vehicle(cue: Cue) -> None:
    found = [other for other in reading(canonical(cue)).cues if other.attribute == cue.attribute]
    assert [(other.key, other.doubt) for other in found] == [(cue.key, cue.doubt)]
    assert cue.vehicle in (ASKED, ANOTHER)
