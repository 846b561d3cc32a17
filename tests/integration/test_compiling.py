"""An edition compiled from the one before it is the edition compiled afresh."""

import json
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import seed_demo
from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services import compiling
from catalog.services.acting import actor_of
from catalog.services.doubting import doubt
from catalog.services.house import House, open_house
from catalog.services.records import read_record
from catalog.services.seeding import prepare_demo
from catalog.store.rows import Member


@pytest.fixture
def houses(tmp_path: Path) -> Iterator[tuple[House, House]]:
    """Two houses with one database: the first compiles every edition, the second the last one only."""
    url = f"sqlite:///{tmp_path / 'chockbook.db'}"
    with ExitStack() as stack:
        made = [open_house(Settings(tmp_path / name, url)) for name in ("each", "last")]
        for house in made:
            stack.callback(house.engine.dispose)
        yield made[0], made[1]


def _promised(house: House) -> dict[str, Any]:
    folder = house.settings.data / "compiled"
    name = (folder / "CURRENT").read_text().strip()
    promised: dict[str, Any] = json.loads((folder / "editions" / name / "manifest.json").read_text())
    return promised


def test_every_edition_of_the_demo_compiled_in_turn(
    houses: tuple[House, House], monkeypatch: pytest.MonkeyPatch
) -> None:
    each, last = houses
    demo = seed_demo.load()
    read: list[str] = []
    of_record = compiling._of_record

    def counted(member: Member) -> object:
        read.append(member.key)
        return of_record(member)

    monkeypatch.setattr(compiling, "_of_record", counted)
    for upto in range(1, len(demo.editions) + 1):
        read.clear()
        prepare_demo(each, replace(demo, editions=demo.editions[:upto]), lambda _: None)
        if upto > 1:
            assert sorted(read) == sorted(demo.editions[upto - 1].records)
    prepare_demo(last, demo, lambda _: None)
    one, afresh = _promised(each), _promised(last)
    assert one["number"] == len(demo.editions)
    assert (one["inputs"], one["tables"]) == (afresh["inputs"], afresh["tables"])
    same = {name for name in afresh["files"] if not name.startswith("text/") or name.startswith("text/impacts/")}
    assert len(same) > 30
    assert {name: one["files"][name] for name in same} == {name: afresh["files"][name] for name in same}


def test_doubts_compiled_in_turn_are_the_edition_compiled_afresh(
    houses: tuple[House, House], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only the record of each is looked at; tables, records, notes' counts and scores are the same bytes."""
    each, last = houses
    demo = seed_demo.load()
    prepare_demo(each, replace(demo, editions=demo.editions[:1]), lambda _: None)
    each.shelf.current()
    read: list[str] = []
    of_record = compiling._of_record

    def counted(member: Member) -> object:
        read.append(member.key)
        return of_record(member)

    monkeypatch.setattr(compiling, "_of_record", counted)
    steward = actor_of("tamsin.orrell", Role.STEWARD, "test")
    codes = each.shelf.current().codes
    doubted = []
    for code in (codes[0], codes[-1], codes[0]):
        facts = read_record(each, code).record.facts
        path = next(path for path in facts if path.endswith(".place") and (code, path) not in doubted)
        doubt(each, steward, code, path, "Found elsewhere.")
        doubted.append((code, path))
    assert read == [code for code, _ in doubted]
    compiling.compile_latest(last)
    one, afresh = _promised(each), _promised(last)
    assert one["number"] == 4
    assert (one["inputs"], one["tables"]) == (afresh["inputs"], afresh["tables"])
    same = {name for name in afresh["files"] if not name.startswith("text/") or name.startswith("text/impacts/")}
    assert {name: one["files"][name] for name in same} == {name: afresh["files"][name] for name in same}
    shelf = last.shelf.current()
    assert [entry[:3] for entry in shelf.tables.meta["doubted"]] == [
        [code, path, number] for number, (code, path) in reversed(list(enumerate(doubted, 2)))
    ]
    each.shelf._looked = -1e9  # look again now
    current = each.shelf.current()
    assert current.number == 4
    assert list(current.text.notes()) == list(shelf.text.notes())
    for query in ("cut loop", "port left", '"high voltage"'):
        assert current.text.find(query, 5) == shelf.text.find(query, 5)
