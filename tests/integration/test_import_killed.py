"""An import that is killed on the way: nothing of it is stored or all of it, and the same file again goes on."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalog.cli.pages.imported import checked_lines
from catalog.cli.paper import Paper
from catalog.services.house import House, open_house
from catalog.services.importing import BroughtFile, propose_update
from catalog.services.importing_views import CheckedUpdate
from catalog.services.trail import TrailAsked, read_trail
from catalog.services.updates import UpdatesAsked, list_updates
from catalog.store.engine import read
from catalog.store.verify import verify
from tests.integration.conftest import Filled
from tests.integration.dying import killed
from tests.integration.killed_importer import IN_DATABASE, POINTS, STORED, bring
from tests.integration.review_samples import ADMINISTRATOR, STEWARD, document, three_records
from tests.integration.store_samples import ALPHA, BRAVO


@pytest.fixture
def house(filled: Filled) -> Iterator[House]:
    made = open_house(filled(three_records))
    yield made
    made.engine.dispose()


def page(checked: CheckedUpdate) -> str:
    return " ".join(" ".join(checked_lines(checked, Paper())).split())


@pytest.mark.parametrize(
    ("database", "point"),
    [
        *(("sqlite", point) for point in POINTS),
        *(pytest.param("postgres", point, marks=pytest.mark.postgres) for point in IN_DATABASE),
    ],
    indirect=["database"],
)
def test_killed_at_any_step_the_same_file_again_goes_on(point: str, house: House, tmp_path: Path) -> None:
    file = tmp_path / "issue2.jsonl"
    lines = (
        {"kind": "record", "key": code, "document": document(code, {"looks.body.value": "saloon"})}
        for code in (ALPHA, BRAVO)
    )
    file.write_text("\n".join(json.dumps(line) for line in lines))
    house.engine.dispose()
    killed(bring, str(tmp_path / "data"), house.settings.database_url, str(file), point)
    stored = int(point in STORED)
    assert len(list_updates(house, STEWARD, UpdatesAsked()).updates) == stored
    with read(house.engine) as conn:
        assert verify(conn).faults == ()
    again = propose_update(house, STEWARD, BroughtFile(file.name, file.read_bytes()))
    assert (again.counts["changed"], again.update, again.again) == (2, "1", bool(stored))
    said = "It was sent to review before, as update 1" if stored else "Sent to review as update 1"
    assert said in page(again)
    assert [update.number for update in list_updates(house, STEWARD, UpdatesAsked()).updates] == [1]
    acts = [entry.action for entry in read_trail(house, ADMINISTRATOR, TrailAsked()).entries]
    assert acts.count("import") == 1
