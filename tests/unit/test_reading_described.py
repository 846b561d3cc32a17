"""Parts and what they are like in any order; plugs by their holes; what hides a port. The cases are ours, no source."""

import pytest

from tests.unit.reading_cases import said


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("tall skinny brake lights", {"rear_lamps=pair_tall"}),
        ("headlights? Round ones", {"front_lamps=pair_round"}),
        ("square lights front and back", {"front_lamps=pair_square", "rear_lamps=pair_square"}),
        ("tall lights up front and square ones behind", {"front_lamps=pair_tall", "rear_lamps=pair_square"}),
        ("one red stripe across the tail", {"rear_lamps=strip"}),
        ("the door handles poke out for you", {"handles=flush"}),
        ("roof rails or maybe a roof rack", {"roof=rack,rails?"}),
        ("smooth nose with a slit low down", {"front_face=lower_intake"}),
        ("gears are on a stalk by the wheel", {"selector=stalk"}),
        ("steel wheels with grey caps", {"wheels=covered,steel"}),
        ("exhaust? no there isn't one", {"tailpipe=none"}),
        ("one screen, upright like a phone", {"screen=portrait"}),
    ],
)
def test_a_part_and_what_it_is_like(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "attribute"),
    [
        ("the headlights are not round", "front_lamps=pair_round"),
        ("a small square plug and lights that work", "front_lamps=pair_square"),
        ("thin headlights and a name across the boot", "rear_lamps=strip"),
        ("one headlight smashed", "front_lamps=single"),
        ("the flap opens with the lever on the dash", "selector=wand"),
        ("charge port there, the blue lead belongs to the neighbour", "cable=blue"),
    ],
)
def test_what_is_said_of_something_else(text: str, attribute: str) -> None:
    assert attribute not in said(text)


@pytest.mark.parametrize(
    ("text", "connector"),
    [
        ("round with seven holes and two fat ones under", "ccs2"),
        ("five in a circle and two thick ones below", "ccs1"),
        ("a ring with a flat top and two big holes", "ccs2"),
        ("socket is two big holes and three small", "j3400"),
        ("pins inside, seven of them", "type2"),
        ("a seven hole plug and a great big nine hole one", "gbt_ac,gbt_dc"),
        ("one big round one with two fat holes", "chademo,gbt_dc"),
        ("five holes in a ring, no sorry, seven holes", "type2"),
        ("seven holes with two big ones, or was it five", "ccs1,ccs2"),
    ],
)
def test_what_the_holes_of_a_plug_say(text: str, connector: str) -> None:
    assert f"connector={connector}" in said(text)


@pytest.mark.parametrize(
    "text",
    [
        "we've a type 2 dummy plug with us",
        "two big wheels",
        "seven pin trailer socket",
        "two holes in the nose for charging",
    ],
)
def test_no_plug_of_the_vehicle(text: str) -> None:
    assert not [cue for cue in said(text) if cue.startswith("connector")]


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        (
            "plugs in behind the left hand tail light, the light tips out",
            {"port_cover=lamp", "door_mechanism=hinged_lamp"},
        ),
        ("the badge tips aside to charge it", {"port_cover=badge", "door_mechanism=hinged_badge"}),
        ("charge flap cut in the paint", {"port_cover=flap"}),
        ("the charging spot is on the left under the seat", {"port_cover=seat"}),
    ],
)
def test_what_hides_the_port(text: str, cues: set[str]) -> None:
    assert cues <= said(text)


def test_words_run_together_and_ambiguous_misspellings() -> None:
    assert "tailpipe=none" in said("noexhaust onit")
    assert "roof=fixed" in said("roofis plain")
    assert "start=button" in said("a start buton")
