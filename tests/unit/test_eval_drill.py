"""The drill at the desk: which files it takes, and that each of its checks can fail."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from catalog.resolve.fact_chances import ValueChance, Verdict
from tests.eval.demo import KEPT
from tests.eval.drill_desk import Catalogues, catalogues, marks, missing, mixed, moments
from tests.eval.drill_scripts import read_calls

CALL = {
    "id": "one", "kind": "honest", "code": "QPW-TF3", "listed": True, "driving_side": "left",
    "utterances": ["Quellorne Brantock 2023", "a white bus hit it"], "answers": {}, "other": {},
}  # fmt: skip


def written(folder: Path, **changed: Any) -> Path:
    path = folder / "calls.jsonl"
    path.write_text(json.dumps({**CALL, **changed}) + "\n", encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"kind": "angry"}, "kind 'angry'"),
        ({"code": "AAA-AAA"}, "AAA-AAA is not"),
        ({"utterances": []}, "nobody says"),
        ({"answers": {"moon": "full"}}, "no question 'moon'"),
        ({"answers": {"tailpipe": "three"}}, "no answer 'three'"),
        ({"driving_side": "up"}, "driving_side 'up'"),
        ({"more": 1}, "more"),
    ],
)
def test_a_call_that_cannot_be_used_is_named(tmp_path: Path, changed: dict[str, Any], said: str) -> None:
    with pytest.raises(SystemExit, match=said):
        read_calls(written(tmp_path, **changed), ["QPW-TF3"])


def test_the_same_call_twice_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path)
    path.write_text(path.read_text() * 2)
    with pytest.raises(SystemExit, match="more than once"):
        read_calls(path, ["QPW-TF3"])


@pytest.fixture(scope="module")
def where(tmp_path_factory: pytest.TempPathFactory, demo_data: Path) -> Iterator[Catalogues]:
    [gone] = read_calls(written(tmp_path_factory.mktemp("calls"), listed=False), ["QPW-TF3"])
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(KEPT, str(demo_data))
        with catalogues([gone]) as made:
            yield made


def test_a_named_vehicle_is_right_at_once(where: Catalogues, tmp_path: Path) -> None:
    [call] = read_calls(written(tmp_path), ["QPW-TF3"])
    made = marks(call, where)
    assert made.until == 1
    assert made.shown > 0
    assert (made.wrong, made.missing, made.mixed) == ([], [], [])


def test_the_family_of_an_unlisted_vehicle_is_not_there(where: Catalogues) -> None:
    held = where.lean.shelf.current().codes
    assert "QPW-TF3" not in held
    assert "KDF-F3R" not in held, "its successor is of the same platform"
    assert "QPW-TF3" in where.whole.shelf.current().codes


def test_what_is_the_same_on_all_and_wrong_is_counted(where: Catalogues, tmp_path: Path) -> None:
    [call] = read_calls(written(tmp_path), ["QPW-TF3"])
    assert marks(replace(call, code="RGQ-HH3"), where).wrong != []


def test_what_only_the_other_vehicle_shows_is_counted(where: Catalogues, tmp_path: Path) -> None:
    [call] = read_calls(written(tmp_path, utterances=["white bus"], other={"body": ["bus"]}), ["QPW-TF3"])
    [first, *_] = moments(call, where)
    assert list(mixed(first)) == ["body bus"]


def test_a_protective_value_left_out_is_missed(
    where: Catalogues, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    [call] = read_calls(written(tmp_path, utterances=["a pickup"]), ["QPW-TF3"])
    [first, *_] = moments(call, where)
    assert list(missing(first, where.records)) == []

    class Silent:
        def __init__(self, chance: Any) -> None:
            self.fact, self.verdict = chance.fact, Verdict.DIFFERS
            self.values = tuple[ValueChance, ...]()

    monkeypatch.setitem(first.__dict__, "facts", tuple(Silent(chance) for chance in first.facts))
    assert list(missing(first, where.records)) != []
