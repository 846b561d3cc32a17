"""The record written out: every attribute with its state, and silence never reads as none."""

import json
from collections.abc import Iterator
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.documents import record_from_document
from catalog.domain.facts import State
from catalog.domain.protective import DOUBTFUL
from catalog.domain.record import Line, Record, lines, list_paths
from catalog.domain.sources import Source
from schemas.written import written_record
from tests.sample import Document, absent, place, said, sample
from tests.strategies import records

GUIDE = Source("guide", "KEL-7", 1, "Kella rescue guide", "Ondru", "2023-05-01", "2023-06-11", pages=24)
SOURCES = {GUIDE.key: GUIDE}
_NOTHING_SAID = ("none", "no", "not fitted", "0", "off")


@settings(max_examples=20)
@given(records())
def test_every_attribute_is_there_with_its_state(record: Record) -> None:
    written = written_record(record, {})
    assert json.loads(json.dumps(written)) == written
    for line in lines(record):
        fact = _at(written, line.path)
        assert fact["state"] == line.fact.state
        assert ("value" in fact) is (line.fact.value is not None)
        assert ("label" in fact) is ("value" in fact)
        assert ("readings" in fact) is (line.fact.state in DOUBTFUL)
        assert [entry["ref"] for entry in fact["src"]] == list(line.fact.sources())
        _assert_doubt_is_said(line, fact)


def _assert_doubt_is_said(line: Line, fact: dict[str, Any]) -> None:
    if line.fact.state is State.NOT_STATED:
        assert set(fact) == {"state", "readings", "src"}
        assert not any(reading["words"] in _NOTHING_SAID for reading in fact["readings"])
    if line.fact.state in DOUBTFUL and line.attr.critical:
        assert [(r["use"], r["assume"], r["words"]) for r in fact["readings"]] == [
            (str(r.use), r.as_, r.words) for r in line.attr.readings
        ]
        assert fact["readings"]
    if line.fact.state is State.DISPUTED:
        assert [side["state"] for side in fact["sides"]] == [side.state for side in line.fact.sides]
        assert all(side["src"] for side in fact["sides"])


@settings(max_examples=20)
@given(records())
def test_every_list_says_whether_it_names_all_there_is(record: Record) -> None:
    written = written_record(record, {})
    assert list(written["lists"]) == list(list_paths())
    for path, said_of in written["lists"].items():
        held, complete = bool(record.items.get(path)), path in record.complete
        assert said_of["complete"] is complete
        assert said_of["state"] == ("stated" if held or complete else "not_stated")
        assert said_of["words"]
        assert bool(said_of["src"]) is complete
        assert [entry["id"] for entry in _at(written, path)] == list(record.items.get(path, ()))


@settings(max_examples=20)
@given(records(), st.data())
def test_taking_a_fact_away_changes_its_state_and_nothing_else(record: Record, data: st.DataObject) -> None:
    if not record.facts:
        return
    path = data.draw(st.sampled_from(sorted(record.facts)))
    less = Record(
        record.identity,
        {other: fact for other, fact in record.facts.items() if other != path},
        record.items,
        record.complete,
        record.notes,
    )
    before, after = dict(_leaves(written_record(record, {}))), dict(_leaves(written_record(less, {})))
    changed = {key.partition(" ")[0] for key in before.keys() | after.keys() if before.get(key) != after.get(key)}
    assert changed == {path.replace("[", ".").replace("]", "")}
    assert _at(written_record(less, {}), path)["state"] == "not_stated"


def test_the_words_a_reader_gets() -> None:
    written = _written(
        {
            "motion.key_distance": said(3000),
            "motion.selector": said("stalk"),
            "restraints.wait": {"disputed": [said(60), said(600, "KEL-7/1:9")]},
            "energy.outlets": said(True, fit="some", depends="built from May 2022"),
            "energy.roof_rails": absent(),
            "ports.0.place": said(place("left", "rear_quarter", "mid", landmark="behind_badge")),
        }
    )
    assert written["identity"]["title"] == "Ondru Kella"
    assert written["identity"]["years"] == {"from": 2021, "to": 2024, "label": "2021–2024"}
    assert written["identity"]["propulsion_label"] == "battery electric"
    assert written["motion"]["key_distance"]["label"] == "3 m (10 ft)"
    assert written["motion"]["selector"]["label"] == "stalk on the steering column"
    assert [side["label"] for side in written["restraints"]["wait"]["sides"]] == ["60 s", "10 min"]
    assert written["restraints"]["wait"]["readings"][0]["words"] == "not stated: treat as armed"
    assert written["energy"]["outlets"]["depends"] == "built from May 2022"
    assert written["energy"]["roof_rails"] == {"state": "not_fitted", "src": [_page(4)]}
    port = written["ports"][0]
    assert port["place"]["value"] == {
        "side": "left", "end": "rear_quarter", "level": "mid", "landmark": "behind_badge",
    }  # fmt: skip
    assert port["place"]["label"] == "left rear quarter, mid height, behind the badge"
    assert port["place"]["src"] == [_page(4)]


def _page(page: int) -> dict[str, Any]:
    return {
        "ref": f"KEL-7/1:{page}", "key": "KEL-7/1", "title": "Kella rescue guide", "kind": "guide",
        "short": "KEL-7 issue 1", "issued": "2023-05-01", "page": page,
    }  # fmt: skip


def test_none_stated_and_stated_none_read_differently() -> None:
    silent = _written({})["lists"]["heavy.switches"]
    none = _written({"heavy.switches": [], "complete": {"heavy.switches": said(True)}})["lists"]["heavy.switches"]
    assert (silent["state"], silent["complete"]) == ("not_stated", False)
    assert silent["words"] == "none stated: no emergency switch to count on"
    assert (none["state"], none["complete"]) == ("stated", True)
    assert none["words"] == "stated: no emergency switch"
    assert none["src"] == [_page(4)]
    some = _written({})["lists"]["ports"]
    assert some["words"] == "there may be more than are listed"


def test_a_reference_to_an_unknown_source_still_shows() -> None:
    written = written_record(record_from_document(sample({"looks.doors": said(5, "XX-9/1:2")})), SOURCES)
    assert written["looks"]["doors"]["src"] == [{"ref": "XX-9/1:2", "key": "XX-9/1", "title": "", "page": 2}]


def _written(changes: dict[str, Any]) -> Document:
    return written_record(record_from_document(sample(changes)), SOURCES)


def _at(written: Any, path: str) -> Any:
    """The part at a path such as "ports[a].door.mechanism"."""
    node = written
    for key in path.replace("[", ".#").replace("]", "").split("."):
        node = next(item for item in node if item["id"] == key[1:]) if key.startswith("#") else node[key]
    return node


def _leaves(node: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """(path of the fact, a space, where in it) and value of everything written."""
    if isinstance(node, dict):
        inside = " " if "state" in node and "src" in node else "."
        for key, value in node.items():
            yield from _leaves(value, f"{path}{'.' if ' ' in path else inside}{key}" if path else key)
    elif isinstance(node, list):
        for position, value in enumerate(node):
            named = value["id"] if isinstance(value, dict) and "id" in value else position
            yield from _leaves(value, f"{path}.{named}")
    else:
        yield path, node
