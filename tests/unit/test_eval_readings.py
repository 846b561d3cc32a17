"""The evaluation of readings: what sets may look like, what counts as right, and that no fault passes for a success."""

import json
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from catalog.resolve.cue import ATTRIBUTES, Cue, Doubt, Span
from catalog.resolve.lexicon import Lexicon
from tests.eval import reading_tables, readings
from tests.eval.gates import Gate, report
from tests.eval.reading_effect import as_cue, effect, table
from tests.eval.reading_keys import expanded, keys_of, rates
from tests.eval.reading_score import distinct_share, flips, measure, unmasked
from tests.eval.reading_sets import Line, read_set
from tests.eval.reading_terms import BadSet, Said, Terms, read_terms
from tests.eval.reading_values import closed, own_value
from tests.unit.resolve_cases import body, field, record

FOLDER = readings.HERE
Row = Mapping[str, Any]


def written(folder: Path, *rows: Row, name: str = "set.jsonl") -> Path:
    path = folder / name
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    return path


def said(attribute: str, *values: str, vehicle: str = "A") -> Said:
    return Said(attribute, tuple(sorted(values)), False, vehicle)


def denied(attribute: str, *values: str) -> Said:
    return Said(attribute, tuple(sorted(values)), True)


UNPLUGGED = said("propulsion", "combustion", "hybrid", "fuel_cell")


def gates(path: Path) -> dict[str, Any]:
    return {gate["name"]: gate for gate in json.loads(path.read_text(encoding="utf-8"))["gates"]}


def one_line(folder: Path, row: Row) -> Line:
    return read_set(written(folder, row), Terms())[0][0]


# The sets in the repository.


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.jsonl")), ids=lambda path: path.name)
def test_every_set_keeps_the_format(path: Path) -> None:
    lines, _ = read_set(path, Terms())
    assert lines
    assert len({line.text for line in lines}) == len(lines), "the same text twice"


def test_there_are_traps_enough_and_each_says_why() -> None:
    rows = [json.loads(line) for line in readings.TRAPS.read_text(encoding="utf-8").splitlines()]
    assert len(rows) >= 100
    assert all(row["why"] for row in rows)
    assert sum(not row["cues"] for row in rows) > 80


def test_the_guide_names_every_attribute_and_value() -> None:
    guide = (FOLDER / "guide.md").read_text(encoding="utf-8")
    words = set(guide.replace(",", " ").replace("`", " ").replace(";", " ").replace(":", " ").replace("|", " ").split())
    missing = {attribute for attribute in ATTRIBUTES if attribute not in words}
    spelt = {"category": {"L2", "L3", "L4", "L5", "L6"}, "fuel": {"none"}}  # "L1 to L7"; no fuel is not sayable
    for attribute in ATTRIBUTES:
        missing |= {value for value in closed(attribute).values() if value not in words | spelt.get(attribute, set())}
    assert not missing


def test_the_first_set_is_still_read(tmp_path: Path) -> None:
    out = tmp_path / "gates.json"
    readings.main(["--set", str(FOLDER / "first.jsonl"), "--json", str(out)])
    found = gates(out)
    assert found["f1_first"]["met"]
    assert found["side_flips"]["met"]


# Gates and exit status.

WHITE_VAN = {"text": "white van", "names": [], "cues": [["colour", ["white"], False], ["body", ["van"], False]]}


def test_a_set_read_rightly_gives_status_nought(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "gates.json"
    assert readings.main(["--set", str(written(tmp_path, WHITE_VAN)), "--json", str(out)]) == 0
    assert list(gates(out)) == ["f1_development"]
    assert gates(out)["f1_development"]["value"] == 1.0
    assert "last none" in capsys.readouterr().out


@pytest.mark.parametrize("cues", [[["body", ["bus"], False]], [["colour", ["white"], False], ["body", ["van"], True]]])
def test_a_set_read_wrongly_gives_status_one(tmp_path: Path, cues: Any) -> None:
    assert readings.main(["--set", str(written(tmp_path, {**WHITE_VAN, "cues": cues}))]) == 1


def test_a_set_in_which_nothing_can_be_wrong_is_no_success(tmp_path: Path) -> None:
    assert readings.main(["--set", str(written(tmp_path, {"text": "hello", "names": [], "cues": []}))]) == 1


def test_a_faulty_set_gives_status_two_and_says_where(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert readings.main(["--set", str(written(tmp_path, WHITE_VAN, {"cues": []}))]) == 2
    assert "set.jsonl, line 2" in capsys.readouterr().out


@pytest.mark.parametrize(("part", "shown"), [("development", True), ("first", True), ("last", False)])
def test_what_is_last_is_never_shown(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], part: str, shown: bool
) -> None:
    row = {
        "text": "port on the left, ring Zebedee", "names": [], "cues": [["port_place", ["right||"], False]],
        "masked": ["Zebedee"], "part": part,
    }  # fmt: skip
    readings.main(["--set", str(written(tmp_path, row)), "--misses"])
    printed = capsys.readouterr().out
    assert ("Zebedee" in printed) is shown
    assert f"sides turned round: development {int(part == 'development')}, last {int(part == 'last')}" in printed


def test_a_gate_without_data_is_not_met(tmp_path: Path) -> None:
    found = {gate.name: gate for gate in readings.gates([], [])}
    assert set(found) == {"f1_development", "f1_last", "f1_first", "side_flips", "traps", "masked"}
    assert not any(gate.met for gate in found.values())
    assert report("test", list(found.values()), tmp_path / "out.json") == 1
    assert gates(tmp_path / "out.json")["traps"]["value"] is None


@pytest.mark.parametrize(
    ("gate", "met"),
    [
        (Gate("enough", 0.9, 0.9), True),
        (Gate("too little", 0.89, 0.9), False),
        (Gate("little enough", 0.1, 0.2, most=True), True),
        (Gate("too much", 0.3, 0.2, most=True), False),
        (Gate("nothing measured", float("nan"), 0.2, most=True), False),
    ],
)
def test_gate(gate: Gate, met: bool) -> None:
    assert gate.met is met
    assert report("test", [gate]) == (0 if met else 1)


def test_a_trap_fires_only_for_what_may_not_be_read(tmp_path: Path) -> None:
    line = one_line(tmp_path, WHITE_VAN)
    assert not readings.fired([measure(line, Lexicon())])
    assert not readings.fired([measure(one_line(tmp_path, {**WHITE_VAN, "text": "white"}), Lexicon())])
    [(_, keys)] = readings.fired([measure(one_line(tmp_path, {**WHITE_VAN, "text": "white bus"}), Lexicon())])
    assert [key.values for key in keys] == [("bus",)]


# The format, ours and foreign.


def test_a_foreign_set_is_scored_like_ours(tmp_path: Path) -> None:
    ours = {
        "text": "white sedan or wagon, not electric, two rows, inlet left rear, hit by a truck, it was raining",
        "cues": [["colour", ["white"], False], ["body", ["saloon", "estate"], False], ["propulsion", ["battery"], True],
                 ["rows", ["2"], False], ["port_place", ["left|rear|"], False]],
        "other": [["body", ["pickup", "lorry"], False]],
    }  # fmt: skip
    foreign = {
        "text": ours["text"],
        "source": "a field we do not know",
        "cues": [
            {"attribute": "Paint", "value": "White"},
            {"attribute": "body-style", "values": ["sedan", "Wagon"]},
            {"attribute": "fuel type", "value": "BEV", "negated": True},
            ["seat rows", 2],
            {"attribute": "inlet place", "value": {"side": "left", "end": "rear"}, "doubt": "hedged"},
            {"attribute": "body", "value": "truck", "vehicle": "B"},
            {"attribute": "weather", "value": "rain"},
        ],
    }
    [line], ignored = read_set(written(tmp_path, foreign), read_terms(FOLDER / "mapping.json"))
    assert keys_of(line.said) == keys_of(one_line(tmp_path, ours).said)
    assert ignored == {"weather": 1}
    assert (line.part, line.driving_side, line.hand, line.code) == ("development", "left", "unsaid", "")
    assert [entry.doubt for entry in line.said if entry.attribute == "port_place"] == [Doubt.HEDGED]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"cues": []}, ['"text" is missing', "as written"]),
        ({"text": "van"}, ['"cues" is missing', "Write []"]),
        ({"text": "van", "cues": [["paint", ["red"], False]]}, ["'paint' is not known", '"attributes"']),
        ({"text": "van", "cues": [["body", ["sedan"], False]]}, ["body has no value 'sedan'", "saloon", "mapping"]),
        ({"text": "van", "cues": [["body", [], False]]}, ["body has no value", "hatchback"]),
        ({"text": "van", "cues": [["body", ["van"], "no"]]}, ["denied", "true or false"]),
        ({"text": "van", "cues": ["van"]}, ['cue "van" cannot be read', '["body", ["van"], false]']),
        ({"text": "van", "cues": [["port_place", ["left rear"], False]]}, ["'left rear'", "side|end|level"]),
        ({"text": "van", "cues": [["port_place", ["||"], False]]}, ["'||'", "side|end|level"]),
        ({"text": "van", "cues": [["years", ["21"], False]]}, ["'21'", "2019-2021"]),
        ({"text": "van", "cues": [], "part": "test"}, ["\"part\" is 'test'", "development, last"]),
        ({"text": "van", "cues": [], "driving_side": "both"}, ["\"driving_side\" is 'both'", "left, right"]),
        ({"text": "van", "cues": [], "masked": ["0123"]}, ["'0123'", "Copy it from the text"]),
    ],
)
def test_a_fault_names_its_line_and_its_cure(tmp_path: Path, row: Row, words: Sequence[str]) -> None:
    with pytest.raises(BadSet) as raised:
        read_set(written(tmp_path, WHITE_VAN, row, WHITE_VAN, row), Terms())
    first, second = str(raised.value).split("\n")
    assert first.startswith("set.jsonl, line 2: ")
    assert second.startswith("set.jsonl, line 4: ")
    assert all(word in first for word in words)


def test_a_line_that_is_no_json_names_itself(tmp_path: Path) -> None:
    path = tmp_path / "set.jsonl"
    path.write_text('\n{"text": "van"\n[]\n', encoding="utf-8")
    with pytest.raises(BadSet, match=r"line 2: not JSON[^\n]*\n.*line 3: not an object"):
        read_set(path, Terms())


@pytest.mark.parametrize(
    "mapping", [{"attributes": {"paint": "tint"}}, {"values": {"tint": {}}}, {"values": {"body": {"sedan": "salon"}}}]
)
def test_a_mapping_to_what_we_do_not_have_is_refused(tmp_path: Path, mapping: Row) -> None:
    path = tmp_path / "mapping.json"
    path.write_text(json.dumps(mapping), encoding="utf-8")
    with pytest.raises(BadSet, match="is not ours"):
        read_terms(path)


@pytest.mark.parametrize(
    ("attribute", "text", "ours"),
    [
        ("propulsion", "Plug-in hybrid", "plug_in_hybrid"),
        ("category", "m1", "M1"),
        ("name", "Brock-Moor", "brockmoor"),
        ("name", "*ELL*", "*ell*"),
        ("name", "*", None),
        ("vin", "x9q*", "X9Q*"),
        ("vin", "4421", None),
        ("years", "2019–2021", "2019-2021"),
        ("years", "2021-2019", None),
        ("doors", "6", None),
        ("other_place", "driver|front_face|low", "driver|front_face|low"),
    ],
)
def test_values_in_our_spelling(attribute: str, text: str, ours: str | None) -> None:
    assert own_value(attribute, text) == ours


# What counts as right.


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ([said("scene", "water"), said("scene", "water_deep")], [said("scene", "water_deep")]),
        ([said("scene", "rolled"), said("scene", "on_side"), said("scene", "left_down")], [said("scene", "left_down")]),
        ([said("scene", "damage_left"), said("scene", "damage")], [said("scene", "damage_left")]),
        ([denied("body", "van", "bus")], [denied("body", "van"), denied("body", "bus")]),
        ([UNPLUGGED], [denied("propulsion", "battery", "plug_in_hybrid")]),
        ([said("years", "2019-2021")], [said("years", "2019", "2020", "2021")]),
        ([said("name", "brock moor")], [said("name", "brockmoor")]),
    ],
)  # fmt: skip
def test_two_ways_of_annotating_the_same(one: Sequence[Said], other: Sequence[Said]) -> None:
    assert keys_of(one) == keys_of(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (said("scene", "damage_left"), said("scene", "damage")),
        (said("body", "van"), said("body", "van", vehicle="B")),
        (said("body", "van"), denied("body", "van")),
        (said("body", "van"), said("body", "van", "bus")),
        (said("propulsion", "combustion", "hybrid"), denied("propulsion", "battery", "plug_in_hybrid")),
    ],
)
def test_what_is_not_the_same(one: Said, other: Said) -> None:
    assert not keys_of([one]) & keys_of([other])


def test_what_says_less_gives_way_only_to_the_same_vehicle_and_denial() -> None:
    kept = [said("scene", "water"), said("scene", "water_deep", vehicle="B"), denied("scene", "water_salt")]
    assert len(keys_of(kept)) == 3
    assert len(expanded([said("scene", "water"), said("scene", "water_deep")])) == 2


def test_rates_by_hand() -> None:
    meant = [keys_of([said("body", "van"), said("colour", "white")]), keys_of([said("doors", "2")])]
    found = [keys_of([said("body", "van"), said("colour", "red")]), keys_of([])]
    counted = rates(zip(meant, found, strict=True))
    assert counted.meant == 3
    assert counted.precision == pytest.approx(1 / 2)
    assert counted.recall == pytest.approx(1 / 3)
    assert counted.f1 == pytest.approx(2 / 5)
    assert math.isnan(rates([]).f1)


@pytest.mark.parametrize(
    ("meant", "found", "count"),
    [
        ([said("port_place", "left|rear|")], [said("port_place", "right|rear|")], 1),
        ([said("port_place", "left|rear|")], [said("port_place", "left|front|")], 0),
        ([said("port_place", "left|rear|")], [said("port_place", "left|rear|"), said("port_place", "right||")], 0),
        ([said("port_place", "left|rear|", "right|rear|")], [said("port_place", "right|rear|")], 0),
        ([said("port_place", "driver|rear|")], [said("port_place", "right|rear|")], 0),
        ([denied("port_place", "left||")], [said("port_place", "left||")], 1),
        ([said("port_place", "left||")], [denied("port_place", "left||")], 1),
        ([denied("port_place", "left||"), said("port_place", "right||")], [said("port_place", "right||")], 0),
        ([said("other_place", "right||")], [said("other_place", "left||")], 1),
        ([said("other_place", "right||")], [said("port_place", "left||")], 0),
        ([said("scene", "left_down")], [said("scene", "right_down")], 1),
        ([said("scene", "left_down"), said("scene", "damage_right")], [said("scene", "right_down")], 1),
        ([said("scene", "damage_right", vehicle="B")], [said("scene", "damage_left", vehicle="B")], 1),
        ([said("scene", "damage_right")], [said("scene", "damage_left", vehicle="B")], 0),
    ],
)  # fmt: skip
def test_sides_turned_round(meant: Sequence[Said], found: Sequence[Said], count: int) -> None:
    assert len(flips(keys_of(meant), keys_of(found))) == count


def test_an_annotated_string_must_be_masked_whole_and_heard_by_no_cue() -> None:
    text = "ring 07700 900123, MR WHITE, WHITE van"
    number, name, colour = Span(5, 17), Span(22, 27), Span(29, 34)
    heard = Cue("colour", ("white",), (colour,), "WHITE")
    masked = ["07700 900123", "WHITE"]
    assert unmasked(text, masked, [number, name], [heard]) == ()
    assert unmasked(text, masked, [Span(5, 16), name], [heard]) == ("07700 900123",)
    assert unmasked(text, masked, [Span(5, 10), Span(10, 17), name], [heard]) == ()
    assert unmasked(text, masked, [number], [heard]) == ("WHITE",)
    assert unmasked(text, masked, [number, name, colour], [heard]) == ("WHITE",)
    assert unmasked(text, [*masked, "WHITE"], [number, name], []) == ("WHITE",)


def test_share_of_distinct_runs() -> None:
    assert distinct_share(["a b c d e", "A, b c d!"]) == pytest.approx(2 / 3)
    assert math.isnan(distinct_share(["too short"]))


def test_agreement_is_over_the_texts_annotated_twice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first = one_line(tmp_path, WHITE_VAN)
    second = one_line(tmp_path, {**WHITE_VAN, "cues": [["body", ["van"], False], ["colour", ["cream"], False]]})
    stray = one_line(tmp_path, {"text": "red bus", "cues": []})
    reading_tables.agreement([first], [second, stray])
    printed = capsys.readouterr().out
    assert "F1 over 1 texts" in printed
    assert "all 0.500" in printed
    assert "set.jsonl:1: this text is in no set" in printed
    reading_tables.agreement([first], [])
    assert "no data" in capsys.readouterr().out


# What misreading costs.


def test_the_same_cues_cost_nothing_and_missed_ones_do(tmp_path: Path) -> None:
    fleet = field(record(facts=body("van")), record("Velk", "Nori", facts=body("bus")))
    code = fleet.tables.meta["codes"][0]
    right = one_line(tmp_path, {"text": "van", "code": code, "cues": [["body", ["van"], False]]})
    unread = one_line(tmp_path, {"text": "qzxqzx", "code": code, "cues": [["body", ["van"], False]]})
    same, lost = (effect(measure(line, Lexicon()), fleet) for line in (right, unread))
    assert same.raw == same.annotated
    assert lost.annotated == same.annotated
    assert lost.raw.nll > lost.annotated.nll
    assert (lost.raw.within[0], lost.annotated.within[0]) == (0.5, 1.0)
    assert table([same, lost])[1].split()[:4] == ["success@1", "1.000", "0.750", "0.250"]


def test_a_vehicle_not_in_the_catalogue_is_scored_as_unlisted(tmp_path: Path) -> None:
    fleet = field(record(facts=body("van")), rate=0.2)
    line = one_line(tmp_path, {"text": "hello", "code": None, "cues": []})
    found = effect(measure(line, Lexicon()), fleet)
    assert not found.listed
    assert found.raw.nll == pytest.approx(-math.log(0.2), abs=0.02)


def test_a_code_that_no_record_ever_had_is_a_fault(tmp_path: Path) -> None:
    line = one_line(tmp_path, {"text": "van", "code": "QQQ-QQQ", "cues": []})
    with pytest.raises(BadSet, match=r"set.jsonl:1: no record has the code 'QQQ-QQQ'"):
        effect(measure(line, Lexicon()), field(record()))


def test_an_annotated_cue_keeps_doubt_denial_and_vehicle() -> None:
    cue = as_cue(Said("body", ("van",), True, "B", Doubt.GUESS))
    assert (cue.key, cue.doubt, cue.spans) == (("body", ("van",), True, "B"), Doubt.GUESS, ())
