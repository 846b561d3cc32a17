"""Raw text into cues, by kind of thing said."""

import pytest

from tests.unit.reading_cases import reading, said, unread


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("white pickup, port left rear", {"colour=white", "body=pickup", "port_place=left|rear|"}),
        ("a ute with a tray back", {"body=pickup"}),
        ("station wagon", {"body=estate"}),
        ("sedan", {"body=saloon"}),
        ("a blue hatch", {"colour=blue", "body=hatchback"}),
        ("truck", {"body=lorry,pickup"}),
        ("pickup truck", {"body=pickup"}),
        ("bin lorry", {"body=lorry"}),
        ("people mover", {"body=people_carrier"}),
        ("tiny two-seater", {"body=microcar"}),
        ("jelly-mould", {"body=hatchback,people_carrier,saloon?"}),
        ("box truck", {"body=lorry,van"}),
        ("big black 4x4", {"size=large", "colour=black", "body=suv"}),
        ("four-door saloon", {"doors=4", "body=saloon"}),
        ("5dr", {"doors=5"}),
        ("3 or 5 door hatchback", {"doors=3,5", "body=hatchback"}),
        ("two-tone black over gold", {"colour=black,gold"}),
        ("dark blue", {"colour=blue"}),
        ("burgundy coupé", {"colour=maroon", "body=coupe"}),
    ],
)
def test_looks(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("fully electric", {"propulsion=battery"}),
        ("an EV", {"propulsion=battery"}),
        ("plug-in hybrid", {"propulsion=plug_in_hybrid"}),
        ("hybrid", {"propulsion=hybrid,plug_in_hybrid"}),
        ("self-charging hybrid", {"propulsion=hybrid"}),
        ("hydrogen fuel cell", {"propulsion=fuel_cell", "fuel=hydrogen"}),
        ("diesel", {"fuel=diesel", "propulsion=combustion?"}),
        ("old classic but dead quiet", {"propulsion=battery?", "scene=converted"}),
        ("dead quiet", {"propulsion=battery,fuel_cell?"}),
        ("green flash on the number plate", {"propulsion=battery,fuel_cell?"}),
        ("CCS2", {"connector=ccs2"}),
        ("CCS", {"connector=ccs1,ccs2"}),
        ("two big holes under the round one", {"connector=ccs1,ccs2"}),
        ("type two socket", {"connector=type2"}),
        ("J1772", {"connector=type1"}),
        ("GB/T DC", {"connector=gbt_dc"}),
        ("megawatt plug", {"connector=mcs"}),
    ],
)
def test_power_and_connector(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("no grille", {"front_face=closed_panel"}),
        ("blank front, no mouth", {"front_face=closed_panel"}),
        ("upright slats", {"front_face=slats"}),
        ("light strip right across the back", {"rear_lamps=strip"}),
        ("round headlights", {"front_lamps=pair_round"}),
        ("no tailpipe", {"tailpipe=none"}),
        ("without an exhaust", {"tailpipe=none"}),
        ("twin exhausts", {"tailpipe=yes"}),
        ("no handles, they're sucked in", {"handles=flush"}),
        ("no door handles", {"handles=flush,hidden,none"}),
        ("glass roof", {"roof=glass"}),
        ("turny wheel thing for gears", {"selector=dial"}),
        ("gear wand by the wipers", {"selector=stalk,wand"}),
        ("you just swipe it to drive", {"selector=touch"}),
        ("gear lever on the steering column", {"selector=stalk"}),
        ("flap, the lid slides back by itself", {"door_mechanism=motorised,sliding"}),
        (
            "in the nose where the badge lifts",
            {"port_cover=badge", "door_mechanism=hinged_badge", "port_place=|front_face|"},
        ),
        ("port behind the number plate", {"port_cover=plate", "port_place=|front_face|,|rear_face|"}),
        ("port behind the rear plate", {"port_cover=plate", "port_place=|rear_face|"}),
    ],
)
def test_parts(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("21 plate", "2021"),
        ("a 71 reg", "2021-2022"),
        ("19 or 20 plate", "2019,2020"),
        ("2019 or 2020", "2019,2020"),
        ("2018 to 2020", "2018-2020"),
        ("2019/20", "2019-2020"),
        ("MY22", "2022"),
        ("'19 reg", "2019"),
        ("twenty nineteen", "2019"),
        ("sixty eight plate", "2018-2019"),
        ("191 reg", "2019"),
        ("about 2018", "2018?"),
        ("late nineties", "1997-1999?"),
        ("2019 onwards", "2019-2049"),
        ("pre 2012", "1990-2011"),
    ],
)
def test_years(text: str, value: str) -> None:
    assert said(text) == {f"years={value}"}


@pytest.mark.parametrize(
    "text",
    [
        "last year's model",
        "at 2015 hours",
        "2000 volts",
        "19 people",
        "he's 19 or 20",
        "1500 kg",
        "40 mph",
        "the 2019 job",
    ],
)
def test_numbers_that_are_no_years(text: str) -> None:
    assert not any(cue.attribute in ("years", "doors") for cue in reading(text).cues)


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("Velorn", {"velorn"}),
        ("brockmoor", {"brockmoor"}),
        ("brock moor estate", {"brock moor"}),
        ("Velorn Tavrin X", {"velorn", "tavrin x"}),
        ("velron", {"velron"}),
        ("tavryn suv", {"tavryn"}),
        ("Quill 4", {"quill 4"}),
        ("it's a zorvex", {"zorvex"}),
        ("badge says Zorvex", {"zorvex"}),
        ("a zorvex pickup", {"zorvex"}),
        ("called a Vandrel", {"vandrel"}),
        ("a Velorn Drift", {"velorn", "drift"}),
        ("it started to drift", set()),
        ("he reported a crash", set()),
    ],
)
def test_names(text: str, values: set[str]) -> None:
    assert {value for cue in reading(text).cues if cue.attribute == "name" for value in cue.values} == values


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("DEMKL2V4XRA000123", "vin=DEMKL2V4XRA000123"),
        ("vin demkl2v4xra000123", "vin=DEMKL2V4XRA000123"),
        ("VIN DEMKL 2V4X RA000123", "vin=DEMKL2V4XRA000123"),
        ("DEMKL2V4XRA", "vin=DEMKL2V4XRA"),
        ("DEMKL2V4XRAOOO123", "vin=DEMKL2V4XRA000123?"),
    ],
)
def test_vin(text: str, value: str) -> None:
    assert said(text) == {value}


@pytest.mark.parametrize("text", ["demkl2v4x", "call 02079460123", "reg AB21 CDE", "plate DEMKL2V4"])
def test_numbers_that_are_no_vin(text: str) -> None:
    assert said(text) == set()


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("whiet pikcup", {"colour=white", "body=pickup"}),
        ("hatchbak, siver", {"body=hatchback", "colour=silver"}),
        ("pickuptruck", {"body=pickup"}),
        ("4door", {"doors=4"}),
        ("vans", {"body=van"}),
        ("the van's port's on the left", {"body=van", "port_place=left||"}),
        ("convertable, yelow", {"body=convertible", "colour=yellow"}),
        ("ｗｈｉｔｅ van", {"colour=white", "body=van"}),
        ("ﬂap left rear", {"port_place=left|rear|"}),
    ],
)
def test_spelling(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    "text", ["quite a write off", "the while", "which trick", "they were blank", "a plane crash", "mistake"]
)
def test_common_words_are_not_misspellings(text: str) -> None:
    assert not any(cue.attribute in ("colour", "body", "name") for cue in reading(text).cues)


@pytest.mark.parametrize(
    "text",
    [
        "Mr White called",
        "on Green Street",
        "White Lane",
        "he left the scene",
        "back in ten minutes",
        "it's the right thing",
        "all right",
        "right, listen",
        "he is in the boot",
        "the hatch is open",
        "the bus stop",
        "petrol station",
        "fire engine on its way",
        "man in a red jacket",
        "blue lights",
        "white lines",
        "pick up the phone",
        "turn left at the lights",
        "electric windows",
        "his back aches",
        "the tail's in the front garden",
        "type 2 diabetic",
        "housing estate",
    ],
)
def test_traps_make_no_cue(text: str) -> None:
    assert said(text) == set()


@pytest.mark.parametrize(
    ("text", "cues"),
    [
        ("driver's pinned", {"scene=trapped"}),
        ("the driver is smoking", set()),
        ("the bonnet is smoking", {"scene=smoke", "other_place=|front|"}),
        ("it's steaming", {"scene=vapour"}),
        ("white smoke from the front", {"scene=smoke", "other_place=|front|"}),
        ("no fire or smoke", {"scene!=fire", "scene!=smoke"}),
        ("on its roof in the river", {"scene=on_roof", "scene=water"}),
        ("lying on its left side", {"scene=left_down"}),
        ("still plugged in, hissing", {"scene=charger_attached", "scene=hiss"}),
        ("small fire in the cab", {"scene=fire"}),
    ],
)
def test_scene(text: str, cues: set[str]) -> None:
    assert said(text) == cues


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("hello can you hear me", ["hear"]),
        ("white van zxcvb", ["zxcvb"]),
        ("белый van", ["белый"]),
        ("🚗 van", ["🚗"]),
        ("Mr White", []),
        ("", []),
        (" ... !?", []),
    ],
)
def test_what_was_not_understood_stays_visible(text: str, left: list[str]) -> None:
    assert unread(text) == left


def test_an_emoji_first_shifts_no_span() -> None:
    cue = reading("🚑🚑 white van").cues[0]
    assert (cue.spans[0].start, cue.spans[0].end) == (3, 8)
    assert cue.heard == "white"


def test_a_cue_said_twice_is_one_cue_with_two_spans() -> None:
    cues = reading("white van, it's a white van").cues
    assert [(cue.attribute, len(cue.spans)) for cue in cues] == [("colour", 2), ("body", 2)]


def test_two_values_of_one_attribute_are_one_cue() -> None:
    assert said("white van, blue pickup") == {"colour=blue,white", "body=pickup,van"}
