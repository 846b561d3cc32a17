"""How facts read in words."""

import pytest

from catalog.domain.facts import NOT_STATED, Fact, State, stated
from catalog.domain.places import Place
from catalog.domain.record import attribute_at
from catalog.domain.wording import duration, fact_wording, measure, value_words

SRC = ("OPH-204/2:9",)


# By 25.4 mm to the inch and 6.894757 kPa to the psi (NIST SP 811), rounded up by hand.
@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (400, "V", "400 V"),
        (77400, "Wh", "77.4 kWh"),
        (900, "Wh", "900 Wh"),
        (77000, "Wh", "77 kWh"),
        (5410, "mm", "5,410 mm (17 ft 9 in)"),
        (10000, "mm", "10 m (33 ft)"),
        (15000, "mm", "15 m (50 ft)"),
        (12150, "mm", "12.2 m (40 ft)"),
        (254, "mm", "254 mm (10 in)"),
        (70000, "kPa", "70,000 kPa (700 bar, 10,153 psi)"),
        (180, "s", "3 min"),
        (4, "", "4"),
    ],
)
def test_measures_give_metric_then_customary(value: int, unit: str, expected: str) -> None:
    assert measure(value, unit) == expected


@pytest.mark.parametrize(
    ("seconds", "expected"),
    [
        (0, "0 s, the guide asks for no wait"),
        (90, "90 s"),
        (120, "2 min"),
        (150, "2 min 30 s"),
        (86400, "24 h"),
        (9000, "2 h 30 min"),
        (172800, "48 h"),
        (432000, "5 days"),
    ],
)
def test_durations(seconds: int, expected: str) -> None:
    assert duration(seconds) == expected


def test_not_stated_says_so_and_brings_its_protective_reading() -> None:
    hazard = fact_wording(attribute_at("motion.park_without_12v"), NOT_STATED)
    assert (hazard.state, hazard.text) == ("not stated", "")
    assert hazard.reading == "park may release or not engage: chock before cutting 12 V"
    both_uses = fact_wording(attribute_at("energy.pyro_fuse.fitted"), NOT_STATED)
    assert both_uses.reading == "the plug may not be accepted; high voltage may be on"


def test_stated_values_read_as_labels() -> None:
    assert value_words(attribute_at("motion.selector"), "stalk") == "stalk on the steering column"
    assert value_words(attribute_at("motion.wakes_again"), ("app", "charging")) == "phone app, charging"
    assert value_words(attribute_at("motion.engine_autostart"), True) == "fitted"
    assert value_words(attribute_at("motion.coupled.refuses_drive"), False) == "no"
    place = Place("left", "rear_quarter", "mid")
    assert value_words(attribute_at("ports[].place"), place) == "left rear quarter, mid height"


def test_plain_claims_bring_no_reading_and_uncertain_ones_do() -> None:
    attr = attribute_at("motion.engine_autostart")
    assert fact_wording(attr, stated(True, *SRC)).reading == ""
    assert fact_wording(attr, Fact(State.NOT_FITTED, src=SRC)).reading == ""
    maybe = fact_wording(attr, Fact(State.MAY_BE_FITTED, True, SRC, depends="option pack"))
    assert (maybe.state, maybe.depends) == ("may be fitted", "option pack")
    assert maybe.reading == "treat as able to start by itself"


@pytest.mark.parametrize(
    ("path", "sides", "first"),
    [
        ("restraints.wait", (stated(60, *SRC), stated(180, *SRC)), "3 min"),
        ("motion.park_without_12v", (stated("stays", *SRC), stated("releases", *SRC)), "park releases"),
        ("motion.engine_autostart", (Fact(State.NOT_FITTED, src=SRC), stated(True, *SRC)), "fitted"),
        ("motion.tow_mode", (stated("Hold N.", *SRC), Fact(State.NOT_FITTED, src=SRC)), ""),
    ],
)
def test_a_dispute_shows_every_side_the_most_protective_first(path: str, sides: tuple[Fact, ...], first: str) -> None:
    worded = fact_wording(attribute_at(path), Fact(State.DISPUTED, sides=sides))
    assert len(worded.sides) == 2
    assert worded.sides[0].text == first
    assert worded.reading
