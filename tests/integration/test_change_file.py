"""Another site that follows the change files has the same catalogue, document for document."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from catalog.cli.main import chockbook
from catalog.domain.canonical import canonical_bytes, content_hash
from catalog.errors import IntegrityError, NotFound
from catalog.services.change_file import change_bytes, change_lines, checked_lines
from catalog.services.house import House, open_house
from catalog.services.publishing import go_back, publish_edition
from catalog.services.reviewing import accept_rest
from catalog.store import read as store
from catalog.store.engine import open_engine, read, write
from catalog.store.migrate import upgrade
from catalog.store.publish import Publication, publish
from catalog.store.verify import verify
from tests.integration.conftest import Filled
from tests.integration.review_samples import APPROVER, Changes, brought, three_records
from tests.integration.store_samples import ALPHA, BRAVO, DAY

EDITIONS = range(1, 5)


@pytest.fixture
def house(filled: Filled, few_descriptions: None) -> Iterator[House]:
    """Four editions: the first, a change and a withdrawal, back again, another change."""
    made = open_house(filled(three_records))
    steps: tuple[Changes | None, ...] = (
        {ALPHA: {"looks.body.value": "saloon"}, BRAVO: None}, None, {ALPHA: {"looks.doors.value": 3}},
    )  # fmt: skip
    for changes in steps:
        if changes is None:
            go_back(made, APPROVER, 1, "Wrong.")
            continue
        number = brought(made, changes)
        accept_rest(made, APPROVER, int(number), critical=True)
        publish_edition(made, APPROVER, [number], "A change.")
    yield made
    made.engine.dispose()


def contents(engine: Any, number: int) -> dict[tuple[str, str], str]:
    with read(engine) as conn:
        return {
            (kind, member.key): member.content_hash
            for kind in ("record", "source", "vocabulary")
            for member in store.members(conn, number, kind)
        }


def follow(engine: Any, content: bytes, day: int) -> int:
    """Publish what a change file says, as another site would."""
    header, *members = checked_lines(content)
    opened: dict[str, dict[str, Any]] = {kind: {} for kind in ("record", "source", "vocabulary")}
    gone = {}
    for line in members:
        if "document" in line:
            assert content_hash(line["document"]) == line["content_hash"]
            opened[line["kind"]][line["key"]] = line["document"]
        elif line["kind"] == "record":
            gone[line["key"]] = line["reason"]
    with read(engine) as conn:
        newest = store.latest(conn)
        kept = {m.key: m.document for m in store.members(conn, newest.number, "vocabulary")} if newest else {}
    publication = Publication(
        header["author"], header["note"], records=opened["record"], sources=opened["source"], withdrawn=gone,
        vocabularies={**kept, **opened["vocabulary"]},
    )  # fmt: skip
    with write(engine) as conn:
        return publish(conn, publication, day * DAY)


@pytest.mark.parametrize("steps", [[(0, 1), (1, 2), (2, 3), (3, 4)], [(0, 4)], [(0, 2), (2, 4)]])
def test_taken_in_turn_they_give_the_same_contents(house: House, tmp_path: Path, steps: list[tuple[int, int]]) -> None:
    other = open_engine(f"sqlite:///{tmp_path / 'other.db'}")
    upgrade(other)
    for day, (a, b) in enumerate(steps, 1):
        number = follow(other, change_bytes(house, a, b), day)
        assert contents(other, number) == contents(house.engine, b)
    with read(other) as conn:
        assert verify(conn).faults == ()
    other.dispose()


def test_it_is_the_same_bytes_every_time_and_says_what_it_is(house: House) -> None:
    assert change_bytes(house, 1, 2) == change_bytes(house, 1, 2)
    header, *members, end = change_lines(house, 1, 2)
    assert (header["from"], header["to"], header["note"]) == (1, 2, "A change.")
    assert {(line["kind"], line["key"], line.get("reason")) for line in members} == {
        ("record", ALPHA, "Guide reissued."),
        ("record", BRAVO, "Guide reissued."),
    }
    assert end["lines"] == 3
    for line in change_bytes(house, 1, 2).splitlines():
        assert canonical_bytes(json.loads(line)) == line


def test_one_cut_short_or_changed_is_noticed(house: House) -> None:
    whole = change_bytes(house, 0, 4)
    lines = whole.splitlines(keepends=True)
    for broken in (b"".join(lines[:-1]), b"".join([*lines[:2], *lines[3:]]), whole.replace(b"Kella", b"Kello", 1), b""):
        with pytest.raises(IntegrityError):
            checked_lines(broken)
    for a, b in ((1, 9), (9, 1)):
        with pytest.raises(NotFound):
            change_lines(house, a, b)
    assert [line["line"] for line in change_lines(house, 2, 2)] == ["header", "end"]
    there, back = change_lines(house, 1, 2)[1:-1], change_lines(house, 2, 1)[1:-1]
    assert [(one["closed"], one["opened"]) for one in there] == [(one["opened"], one["closed"]) for one in back]


def test_from_the_terminal(house: House, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CHOCKBOOK_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("CHOCKBOOK_DATABASE", house.settings.database_url)
    path = tmp_path / "changes.jsonl"
    ran = CliRunner().invoke(chockbook, ["edition", "changes", "0", "4", "--file", str(path)])
    assert ran.exit_code == 0, ran.output
    assert path.read_bytes() == change_bytes(house, 0, 4)
