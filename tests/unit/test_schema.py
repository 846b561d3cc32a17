"""The gate's form: every mistake found at once, named so that a steward can mend it."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from catalog.domain.facts import State
from catalog.domain.record import FORMAT, list_paths
from catalog.domain.spec import TREE, Attr, ListOf, Node, Section
from catalog.errors import ChockbookError
from schemas.findings import Invalid
from schemas.record import check_record, load_record, record_json_schema, structure_findings
from tests.sample import REMOVE, SRC, Document, absent, place, said, sample
from tests.strategies import documents

VALIDATOR = Draft202012Validator(record_json_schema())


def test_the_sample_passes_with_nothing_to_look_at() -> None:
    record, doubts = check_record(sample())
    assert record.identity.title == "Ondru Kella"
    assert doubts == ()


# Path to change, what to put there, path of the finding, words it must say.
MISTAKES: list[tuple[str, Any, str, str]] = [
    ("format", REMOVE, "format", "required"),
    ("format", "1", "format", "Write 1"),
    ("format", True, "format", "Write 1"),
    ("identity", REMOVE, "identity", "required"),
    ("identity.make", REMOVE, "identity.make", "required"),
    ("identity.src", REMOVE, "identity.src", "required"),
    ("identity.src", [], "identity.src", "NUMBER/ISSUE:PAGE"),
    ("identity.make", " Ondru", "identity.make", "spaces at the ends"),
    ("identity.make", "On\ndru", "identity.make", "line breaks"),
    ("identity.make", "Ondru\u202e", "identity.make", "control characters"),
    ("identity.variant", "n/a", "identity.variant", "Leave it out"),
    ("identity.propulsion", "electric", "identity.propulsion", "battery"),
    ("identity.category", "m1", "identity.category", "Did you mean M1?"),
    ("identity.steering", "left", "identity.steering", "Write it as a list"),
    ("identity.steering", [], "identity.steering", "a list"),
    ("identity.markets", ["europe", "europe"], "identity.markets[#2]", "again"),
    ("identity.markets", ["Europe"], "identity.markets[#1]", "Did you mean europe?"),
    ("identity.years", 2021, "identity.years", "an object"),
    ("identity.years.from", "2021", "identity.years.from", "whole number"),
    ("identity.names", [], "identity.names", "Leave the key out"),
    ("identity.twin_of", ["QK7-M2T"], "identity.twin_of[#1]", "check"),
    ("identity.vins", ["1234"], "identity.vins[#1]", "seventeen"),
    ("identity.vins", ["FA1KL2V4?RA??????"[:9] + "I" + "?" * 7], "identity.vins[#1]", "position 10"),
    ("identity.vins", ["FA1KL2V4A" + "?" * 8], "identity.vins[#1]", "position 9"),
    ("identity.modle", "Kella", "identity.modle", "Did you mean model?"),
    ("lokos", {}, "lokos", "Did you mean looks?"),
    ("voltage", said(400), "voltage", "energy.packs[]"),
    ("motion", {}, "motion", "not stated"),
    ("motion", [], "motion", "an object"),
    ("motion.coupled", {}, "motion.coupled", "not stated"),
    ("ports", {}, "ports", "a list"),
    ("ports.0", 7, "ports[#1]", "an object"),
    ("ports.0.id", REMOVE, "ports[#1].id", "required"),
    ("ports.0.id", "A1", "ports[#1].id", "lower-case letter"),
    ("ports.0.id", "abcdefghi", "ports[#1].id", "8 in all"),
    ("ports.1", {"id": "a"}, "ports[#2].id", "again"),
    ("ports", [], "ports", "none from not stated"),
    ("looks.body", "hatchback", "looks.body", 'Write {"value": "hatchback"'),
    ("looks.body", said("hatch back"), "looks.body", "Did you mean hatchback?"),
    ("looks.body", said("SUV"), "looks.body", "Did you mean suv?"),
    ("looks.body", said(["suv"]), "looks.body", "not a list"),
    ("looks.body", {"value": "suv"}, "looks.body.src", "nothing"),
    ("looks.body", {"value": "suv", "src": []}, "looks.body.src", "[]"),
    ("looks.body", {"value": "suv", "src": "KEL-7/1:4"}, "looks.body.src", "a list of sources"),
    ("looks.body", {"value": "suv", "src": ["kel 7"]}, "looks.body.src[#1]", "NUMBER/ISSUE:PAGE"),
    ("looks.body", {"value": "suv", "src": SRC + SRC}, "looks.body.src[#2]", "again"),
    ("looks.body", {"src": SRC}, "looks.body.value", "not stated"),
    ("looks.body", {"value": "suv", "scr": SRC}, "looks.body.scr", "Did you mean src?"),
    ("looks.body", absent(), "looks.body.fitted", "never simply not fitted"),
    ("looks.body", said("suv", fit="some"), "looks.body.fit", "cannot be optional"),
    ("looks.doors", said("5"), "looks.doors", "without quotes"),
    ("looks.doors", said(True), "looks.doors", "whole number"),
    ("looks.doors", said(55), "looks.doors", "from 0 to 8"),
    ("looks.wheels", said("-"), "looks.wheels", "states something"),
    ("looks.wheels", said("x" * 401), "looks.wheels", "401 characters"),
    ("looks.colours", said([]), "looks.colours", "Leave the fact out"),
    ("looks.colours", said(["whte"]), "looks.colours[#1]", "Did you mean white?"),
    ("looks.colours", said("white"), "looks.colours", 'as a list: ["white"]'),
    ("looks.tailpipe", {"fitted": True, "src": SRC}, "looks.tailpipe.fitted", "false"),
    ("looks.tailpipe", {"fitted": False, "value": 1, "src": SRC}, "looks.tailpipe.value", "stands alone"),
    ("energy.outlets", said(False), "energy.outlets", '{"fitted": false'),
    ("energy.outlets", said(True, fit="all"), "energy.outlets.fit", '"some"'),
    ("energy.outlets", said(True, depends="trim"), "energy.outlets.depends", '"fit": "some"'),
    ("energy.outlets", said(True, fit="some", depends="?"), "energy.outlets.depends", "states something"),
    ("energy.outlets", {"disputed": [said(True)]}, "energy.outlets.disputed", "two or more"),
    ("energy.outlets", {"disputed": [said(True), said(True)]}, "energy.outlets.disputed", "say the same"),
    ("energy.outlets", {"disputed": [said(True), {"fitted": False}]}, "energy.outlets.disputed[#2].src", "nothing"),
    ("energy.outlets", {"disputed": [said(True), {"disputed": []}]}, "energy.outlets.disputed[#2]", "a side"),
    ("energy.outlets", {"disputed": [said(True), absent()], "src": SRC}, "energy.outlets.src", "each side"),
    ("motion.coupled.selects_park", said("yes"), "motion.coupled.selects_park", "true or false"),
    ("ports.0.place", said("left rear"), "ports[a].place", "a place such as"),
    ("ports.0.place", said({"side": "left", "end": "rear_face"}), "ports[a].place.level", "all three"),
    ("ports.0.place", said(place("nearside", "rear_face", "mid")), "ports[a].place.side", "one of left"),
    ("ports.0.place", said(place("left", "rear face", "mid")), "ports[a].place.end", "Did you mean rear_face?"),
    ("ports.0.place", said(place("left", "rear_face", "mid", at=[1, 2])), "ports[a].place.at", "three whole"),
    ("ports.0.place", said(place("left", "rear_face", "mid", at=[1, 2, 1001])), "ports[a].place.at", "0 to 1000"),
    ("ports.0.place", said(place("left", "rear_face", "mid", hight=1)), "ports[a].place.hight", "unknown key"),
    ("ports.0.door.mecanism", said("cap"), "ports[a].door.mecanism", "Did you mean mechanism?"),
    ("complete", {}, "complete", "not stated"),
    ("complete", {"ports": True}, "complete.ports", '{"value": true'),
    ("complete", {"port": said(True)}, "complete.port", "Did you mean ports?"),
    ("complete", {"ports": said(True), "heavy.switches": said(True)}, "complete.heavy.switches", "Write the list"),
    ("notes", [{"id": "a", "lang": "english", "text": "x", "src": SRC}], "notes[a].lang", "BCP 47"),
    ("notes", [{"id": "a", "lang": "en", "text": "", "src": SRC}], "notes[a].text", "text of 1 to"),
    ("looks.body", None, "looks.body", "null is refused"),
    ("looks.doors", said(4.5), "looks.doors", "not a whole number"),
    ("looks.wheels", said("e\u0301"), "looks.wheels", "NFC"),
    ("looks.wheels", said("\ud800"), "looks.wheels", "lone surrogate"),
    ("looks.döors", 1, "looks", "not ASCII"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "value", "path", "words"), MISTAKES)
def test_a_mistake_is_named_where_it_stands(change: str, value: Any, path: str, words: str) -> None:
    with pytest.raises(Invalid) as caught:
        load_record(sample({change: value}))
    there = [str(finding) for finding in caught.value.findings if finding.path == path]
    assert there, [str(finding) for finding in caught.value.findings]
    assert any(words.lower() in line.lower() for line in there), there


# What JSON Schema cannot say: two things that must agree, text in composed form, a repeat by id.
BEYOND_JSON_SCHEMA = (
    "none from not stated",
    "Write the list",
    "again",
    "say the same",
    "NFC",
    "lone surrogate",
    "check",
)


@pytest.mark.parametrize(
    ("change", "value", "words"),
    [(change, value, words) for change, value, _, words in MISTAKES if words not in BEYOND_JSON_SCHEMA],
)
def test_the_published_schema_refuses_the_same_mistakes(change: str, value: Any, words: str) -> None:
    assert not VALIDATOR.is_valid(sample({change: value})), words


def test_the_published_schema_is_2020_12_and_refers_only_to_itself() -> None:
    schema = record_json_schema()
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"].startswith("urn:")
    named = set(_references(schema))
    assert named <= {f"#/$defs/{key}" for key in schema["$defs"]}
    assert {f"#/$defs/{key}" for key in schema["$defs"]} <= named | {"#/$defs/paragraphs"}
    assert json.loads(json.dumps(schema)) == schema


def test_every_row_of_the_specification_is_in_the_published_schema() -> None:
    schema = record_json_schema()
    waiting: list[tuple[Node | Section, Any]] = [(section, schema["properties"][section.key]) for section in TREE]
    seen = 0
    while waiting:
        node, published = waiting.pop()
        assert published["title"] == node.label
        if isinstance(node, Attr):
            forms = {key for form in published["oneOf"] for key in form["required"]} - {"src"}
            assert forms == ({"value", "fitted", "fit", "disputed"} if node.fittable else {"value", "disputed"})
            assert all(reading.words in published["description"] for reading in node.readings)
            seen += 1
        else:
            inside = published["items"] if isinstance(node, ListOf) else published
            own = {"id"} if isinstance(node, ListOf) else set()
            assert set(inside["properties"]) == own | {child.key for child in node.children}
            waiting.extend((child, inside["properties"][child.key]) for child in node.children)
    assert seen > 100


@settings(max_examples=25)
@given(documents())
def test_the_published_schema_accepts_what_the_gate_accepts(document: Document) -> None:
    assert structure_findings(document) == []
    VALIDATOR.validate(document)


@settings(max_examples=25)
@given(documents(), st.data())
def test_spoiling_any_place_of_a_document_is_found_there(document: Document, data: st.DataObject) -> None:
    """Whatever key is replaced by a number that fits nowhere, both refuse."""
    node: Any = document
    inside = data.draw(st.sampled_from(sorted(node)))
    while isinstance(node[inside], dict | list) and node[inside] and data.draw(st.booleans()):
        node = node[inside]
        inside = data.draw(st.sampled_from(sorted(node) if isinstance(node, dict) else range(len(node))))
    node[inside] = -7
    assert structure_findings(document)
    assert not VALIDATOR.is_valid(document)


def test_everything_wrong_is_said_at_once_and_once() -> None:
    changes = {change: value for change, value, _, _ in MISTAKES[4:] if change.startswith(("looks", "identity.m"))}
    with pytest.raises(Invalid) as caught:
        load_record(sample({**changes, "ports.0.standard": said("css2"), "energy.packs.0.voltage": None}))
    paths = [finding.path for finding in caught.value.findings]
    assert {"looks.body", "looks.doors", "ports[a].standard", "energy.packs[a].voltage"} <= set(paths)
    assert paths.count("energy.packs[a].voltage") == 1
    assert isinstance(caught.value, ChockbookError)
    assert all(path in str(caught.value) for path in paths)


@pytest.mark.parametrize("document", [None, [], "x", 7, float("nan")])
def test_what_is_no_object_at_all_is_refused(document: Any) -> None:
    with pytest.raises(Invalid, match="A record: an object"):
        load_record(document)


def test_a_document_without_a_bottom_is_refused_not_followed() -> None:
    deep: list[Any] = []
    for _ in range(5_000):
        deep = [deep]
    with pytest.raises(Invalid, match="Nested deeper"):
        load_record(sample({"looks.body": deep}))


def test_a_newer_format_is_refused_with_its_cure() -> None:
    with pytest.raises(Invalid, match="newer than") as caught:
        load_record(sample({"format": FORMAT + 1}))
    assert [finding.path for finding in caught.value.findings] == ["format"]
    assert "Update the program" in str(caught.value)


def test_the_five_states_load_as_they_are_stored() -> None:
    record = load_record(
        sample(
            {
                "energy.outlets": said(True),
                "energy.roof_rails": absent(),
                "energy.pyro_fuse.fitted": said(True, fit="some", depends="built from May 2022"),
                "restraints.wait": {"disputed": [said(60), said(600, "KEL-7/2:9")]},
            }
        )
    )
    states = {path: record.fact(path).state for path in ("energy.outlets", "energy.roof_rails", "restraints.wait")}
    assert list(states.values()) == [State.STATED, State.NOT_FITTED, State.DISPUTED]
    fuse = record.fact("energy.pyro_fuse.fitted")
    assert (fuse.state, fuse.depends) == (State.MAY_BE_FITTED, "built from May 2022")
    assert record.fact("restraints.wait").values() == (60, 600)
    assert record.fact("motion.selector").state is State.NOT_STATED


@pytest.mark.parametrize("path", list_paths())
def test_none_can_be_stated_of_every_list(path: str) -> None:
    document = sample({path: [], "complete": {path: said(True)}})
    assert structure_findings(document) == []
    VALIDATOR.validate(document)


def _references(node: Any) -> list[str]:
    if isinstance(node, dict):
        own = [node["$ref"]] if isinstance(node.get("$ref"), str) else []
        return own + [ref for value in node.values() for ref in _references(value)]
    return [ref for value in node for ref in _references(value)] if isinstance(node, list) else []
