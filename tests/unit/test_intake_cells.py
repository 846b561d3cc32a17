"""What stands in one cell: states, units, places, terms, years, VIN patterns. What is not understood is asked about."""

from typing import Any

import pytest

from catalog.domain.connectors import CONNECTOR
from catalog.domain.findings import Severity
from catalog.domain.markets import MARKET
from catalog.domain.places import END, LANDMARK, LEVEL, SIDE
from catalog.domain.record import attribute_at
from catalog.domain.spec.nodes import Number, Terms
from catalog.domain.vocabulary import BY_KEY
from catalog.intake.claims import Shape, fact_text, read_fact, read_plain, read_sources
from catalog.intake.kinds import LastYear, Names, Vins
from catalog.intake.names import names_text, read_names
from catalog.intake.places import place_text, read_place
from catalog.intake.terms import read_term, read_terms, term_text, terms_text
from catalog.intake.units import read_number


def shape(path: str, assumed: str | None = None) -> Shape:
    attr = attribute_at(path)
    return Shape(attr.kind, attr, assumed)


def cure_of(path: str, text: str) -> str:
    """What is said of a cell that is not understood."""
    read = read_fact(shape(path), text)
    assert read.value is None, f"{text!r} was read as {read.value}"
    (problem,) = read.problems
    assert problem.severity is Severity.BLOCKS
    assert problem.found
    assert problem.allowed
    return problem.cure


def value_of(path: str, text: str, assumed: str | None = None) -> Any:
    read = read_fact(shape(path, assumed), text)
    assert not read.problems, read.problems
    (claim,) = read.value
    return claim["value"]


@pytest.mark.parametrize(
    ("path", "text", "value"),
    [
        ("energy.packs[].voltage", "400 V", 400),
        ("energy.packs[].voltage", "0.4 kV", 400),
        ("energy.packs[].voltage", "400V", 400),
        ("energy.packs[].capacity", "77 kWh", 77000),
        ("energy.packs[].capacity", "58 000 Wh", 58000),
        ("energy.packs[].capacity", "58\u202f000 Wh", 58000),
        ("energy.packs[].capacity", "3.6 MJ", 1000),
        ("looks.length", "4.1 m", 4100),
        ("looks.length", "410 cm", 4100),
        ("looks.length", "150 in", 3810),
        ("looks.length", "12 ft 6 in", 3810),
        ("looks.length", "12' 6\"", 3810),
        ("restraints.wait", "2 min", 120),
        ("restraints.wait", "2 min 30 s", 150),
        ("restraints.wait", "1.5 minutes", 90),
        ("aftermath.reignition_watch", "2 days", 172800),
        ("aftermath.reignition_watch", "24 h", 86400),
        ("energy.tanks[].pressure", "700 bar", 70000),
        ("energy.tanks[].pressure", "70 MPa", 70000),
        ("restraints.wait", "0 s", 0),
        ("looks.doors", "5", 5),
    ],
)
def test_units_as_written_become_the_declared_one_exactly(path: str, text: str, value: int) -> None:
    assert value_of(path, text) == value


def test_a_heading_s_unit_is_taken_only_where_the_cell_names_none() -> None:
    assert value_of("energy.packs[].voltage", "0.4", "kV") == 400
    assert value_of("energy.packs[].voltage", "400 V", "kV") == 400
    assert value_of("energy.packs[].voltage", "400", "V") == 400


@pytest.mark.parametrize(
    ("path", "text", "cure"),
    [
        ("energy.packs[].voltage", "400", "Write its unit"),
        ("energy.packs[].capacity", "77 kW", "not known"),
        ("energy.packs[].capacity", "200 Ah", "not known"),
        ("restraints.wait", "5 m", "does not measure"),
        ("looks.length", "4,100 mm", "comma"),
        ("energy.packs[].capacity", "1,5 kWh", "comma"),
        ("restraints.wait", "60-90 s", "One number"),
        ("restraints.wait", ">60 s", "One number"),
        ("restraints.wait", "about 60 s", "Write digits"),
        ("energy.packs[].voltage", "4e2 V", "all its digits"),
        ("energy.packs[].voltage", "1e3", "all its digits"),
        ("energy.packs[].voltage", "9000 V", "Check the number"),
        ("looks.doors", "5 doors", "a count"),
        ("looks.doors", "-3", "One number"),
    ],
)
def test_a_number_that_could_be_something_else_is_asked_about(path: str, text: str, cure: str) -> None:
    assert cure in cure_of(path, text)


@pytest.mark.parametrize(
    ("path", "text", "value", "severity"),
    [
        # A stand-off distance protects upwards; a length is only a look.
        ("aftermath.stand_off", "50.01 ft", 15244, Severity.LOOK),
        ("looks.length", "160.5 in", 4077, Severity.NOTE),
        ("energy.tanks[].pressure", "5000 psi", 34474, Severity.LOOK),
    ],
)
def test_rounding_is_never_silent_and_goes_the_safe_way(path: str, text: str, value: int, severity: Severity) -> None:
    read = read_fact(shape(path), text)
    assert read.value == ({"value": value},)
    (problem,) = read.problems
    assert problem.severity is severity
    assert "which is" in problem.found
    assert f"{value:,}" in problem.allowed


@pytest.mark.parametrize("text", ["-", "–", "n/a", "N/A", "none", "None", "0", "?", "unknown", "tbc"])
@pytest.mark.parametrize(
    "path", ["ports[].place", "ports[].standard", "motion.switch_off", "restraints.pop_up_bar", "looks.roof"]
)
def test_a_dash_or_none_is_never_guessed(path: str, text: str) -> None:
    assert "NOT STATED" in cure_of(path, text)
    assert "NOT FITTED" in cure_of(path, text)


@pytest.mark.parametrize("text", ["NOT STATED", "not stated", "Not stated"])
def test_not_stated_is_said_in_words(text: str) -> None:
    assert read_fact(shape("ports[].place"), text).value == ()


def test_not_fitted_stands_only_where_a_thing_can_be_fitted() -> None:
    assert read_fact(shape("looks.tailpipe"), "NOT FITTED").value == ({"fitted": False},)
    assert "State its value" in cure_of("ports[].place", "NOT FITTED")
    assert "NOT FITTED" in cure_of("restraints.pop_up_bar", "no")


def test_may_be_fitted_with_and_without_what_it_hangs_on() -> None:
    bar = shape("restraints.pop_up_bar")
    assert read_fact(bar, "MAY BE FITTED").value == ({"value": True, "fit": "some"},)
    assert read_fact(bar, "may be fitted\nDEPENDS ON: open top").value == (
        {"value": True, "fit": "some", "depends": "open top"},
    )
    tow = read_fact(shape("motion.tow_mode"), "MAY BE FITTED: On the screen\nDepends on: the tow pack")
    assert tow.value == ({"value": "On the screen", "fit": "some", "depends": "the tow pack"},)
    assert "record of its own" in cure_of("ports[].cover", "MAY BE FITTED: flap")


def test_both_sides_of_a_dispute_with_their_sources() -> None:
    read = read_fact(shape("restraints.wait"), "DISPUTED: 60 s\nAGAINST: 2 min")
    assert read.value == ({"value": 60}, {"value": 120})
    assert read_sources("KEL-7/1:4; KEL-7/1:5\nAGAINST: ZK-77/3:104").value == (
        ("KEL-7/1:4", "KEL-7/1:5"),
        ("ZK-77/3:104",),
    )
    assert "AGAINST" in cure_of("restraints.wait", "DISPUTED: 60 s")


@pytest.mark.parametrize("text", ["none", "0", "-", "Not fitted", "May be fitted: alarm", "DISPUTED: yes", "STATED: x"])
def test_a_text_that_reads_like_a_state_is_written_so_that_it_is_not_one(text: str) -> None:
    attr = attribute_at("motion.switch_off")
    written = fact_text(attr.kind, {"value": text, "src": ["KEL-7/1:4"]})
    assert written == f"STATED: {text}"
    assert read_fact(shape("motion.switch_off"), written).value == ({"value": text},)


def test_a_text_that_begins_like_a_state_is_looked_at() -> None:
    read = read_fact(shape("motion.tow_mode"), "May be fitted with the tow pack")
    assert read.value == ({"value": "May be fitted with the tow pack"},)
    (problem,) = read.problems
    assert problem.severity is Severity.LOOK


def test_every_place_comes_back_from_its_words() -> None:
    for side in SIDE.keys:
        for end in END.keys:
            for level in LEVEL.keys:
                for landmark in (None, *LANDMARK.keys):
                    stored: dict[str, Any] = {"side": side, "end": end, "level": level}
                    if landmark:
                        stored["landmark"] = landmark
                    assert read_place(place_text(stored)).value == stored


@pytest.mark.parametrize(
    ("text", "zone"),
    [
        ("left front quarter, mid, behind badge", ("left", "front_quarter", "mid", "behind_badge")),
        ("mid height, front left quarter", ("left", "front_quarter", "mid", None)),
        ("RIGHT REAR QUARTER LOW", ("right", "rear_quarter", "low", None)),
        ("vehicle's left, rear face, high", ("left", "rear_face", "high", None)),
        ("centre of the vehicle, underneath", ("centre", "middle", "under", None)),
        ("centre, front face, mid, behind the number plate", ("centre", "front_face", "mid", "behind_plate")),
        ("left middle, low, under the seat", ("left", "middle", "low", "under_seat")),
        ("nose, centre, low", ("centre", "front_face", "low", None)),
    ],
)
def test_places_in_the_words_people_use(text: str, zone: tuple[str, str, str, str | None]) -> None:
    read = read_place(text)
    assert not read.problems, read.problems
    assert tuple(read.value.get(part) for part in ("side", "end", "level", "landmark")) == zone


@pytest.mark.parametrize(
    ("text", "cure"),
    [
        ("nearside front quarter, mid", "vehicle's own"),
        ("driver's side, front quarter, mid", "vehicle's own"),
        ("left front, mid", "front face or front quarter"),
        ("left front quarter", "Say its level"),
        ("left right front quarter, mid", "one place"),
        ("left frnt quarter, mid", "Did you mean front quarter"),
        ("left front quarter, mid, behind bage", "Did you mean behind badge"),
        ("2026-03-02", "is not understood"),
    ],
)
def test_a_place_that_is_not_one_is_asked_about(text: str, cure: str) -> None:
    read = read_place(text)
    assert read.value is None
    assert cure in read.problems[0].cure


@pytest.mark.parametrize("vocabulary", [*BY_KEY.values(), CONNECTOR, MARKET], ids=lambda one: one.key)
def test_every_term_comes_back_from_its_word(vocabulary: Any) -> None:
    for key in vocabulary.keys:
        assert read_term(vocabulary, term_text(vocabulary, key)).value == key
        assert read_term(vocabulary, key).value == key
    assert read_terms(vocabulary, terms_text(vocabulary, list(vocabulary.keys))).value == list(vocabulary.keys)


@pytest.mark.parametrize(
    ("vocabulary", "text", "cure"),
    [
        (BY_KEY["body"], "pikup", "Did you mean pickup?"),
        (BY_KEY["body"], "saloom", "Did you mean saloon?"),
        (CONNECTOR, "CSS2", "Did you mean CCS2?"),
        (BY_KEY["propulsion"], "batery electric", "Did you mean battery electric?"),
        (BY_KEY["chemistry"], "unobtainium", "Pick one of these"),
    ],
)
def test_a_near_miss_is_named_and_not_taken(vocabulary: Any, text: str, cure: str) -> None:
    read = read_term(vocabulary, text)
    assert read.value is None
    assert read.problems[0].cure.startswith(cure)


def test_known_synonyms_and_designations() -> None:
    assert read_term(BY_KEY["propulsion"], "BEV").value == "battery"
    assert read_term(CONNECTOR, "IEC 62196-2 type 2").value == "type2"
    assert read_terms(BY_KEY["tool"], "insulated cutters, spanner").value == ["insulated_cutters", "spanner"]


@pytest.mark.parametrize("names", [["a"], ["a; b", 'c "d"'], ['"q"', "e"], ['"a;b'], ["x", "y z"], ['a"b;c']])
def test_names_come_back_whatever_they_hold(names: list[str]) -> None:
    assert read_names(names_text(names)) == names


def test_names_one_a_line() -> None:
    assert read_plain(Names(), "Kella E\nKella, long").value == (["Kella E", "Kella, long"],)


def test_vin_patterns_and_years() -> None:
    assert read_plain(Vins(), "fa1 ke2??????????").value is None  # fifteen characters
    assert read_plain(Vins(), "fa1ke2?**********").value == (["FA1KE2???????????"],)
    assert "I at position 2" in read_plain(Vins(), "FI1KE2???????????").problems[0].found
    assert read_plain(Number("", 1900, 2100), "2025").value == (2025,)
    assert "comma" in read_plain(Number("", 1900, 2100), "2,025").problems[0].cure
    assert read_plain(LastYear(), "still built").value == ("",)


def test_a_date_where_a_word_was_is_asked_about() -> None:
    read = read_number(Number("V", 12, 1500), "2026-03-02", "V")
    assert read.value is None
    assert isinstance(attribute_at("ports[].standard").kind, Terms)
    assert cure_of("ports[].standard", "2026-03-02").startswith("Pick one of these")
