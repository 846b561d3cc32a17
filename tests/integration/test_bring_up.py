"""A host has an edition to answer from before it says that it serves."""

import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

import seed_demo
from catalog.config import Settings
from catalog.errors import Unavailable
from catalog.services.following import bring_up
from catalog.services.house import House, open_house
from catalog.services.resolving import Description, resolve_description
from catalog.services.seeding import prepare_demo
from catalog.store.migrate import upgrade
from tests.integration.test_cli_process import started


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with one published record, compiled. For reading: copy it before writing."""
    data = tmp_path_factory.mktemp("small")
    first = seed_demo.load().editions[0]
    code = min(first.records)
    one = replace(first, records={code: first.records[code]}, reasons={code: first.reasons[code]})
    house = _opened(data)
    prepare_demo(house, seed_demo.Demo((one,)), lambda _: None)
    house.engine.dispose()
    return data


@pytest.fixture
def own(small: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(small, tmp_path / "own"))


def _opened(data: Path, database: Path | None = None) -> House:
    return open_house(Settings(data, f"sqlite:///{database or data / 'chockbook.db'}"))


def _brought_up(house: House) -> list[str]:
    said: list[str] = []
    bring_up(house, said.append)
    house.engine.dispose()
    return said


def test_a_host_with_nothing_compiled_compiles_what_the_database_has(small: Path, tmp_path: Path) -> None:
    house = _opened(tmp_path / "fresh", small / "chockbook.db")
    assert _brought_up(house) == ["Compiling the newest edition"]
    assert house.shelf.current().number == 1
    assert resolve_description(house, Description("a car")).edition.number == 1


def test_a_host_with_an_edition_needs_no_database(own: Path) -> None:
    (own / "chockbook.db").unlink()
    house = _opened(own)
    assert _brought_up(house) == []
    assert house.shelf.current().number == 1


def test_a_damaged_edition_is_compiled_again(own: Path) -> None:
    meta = next((own / "compiled/editions").glob("*/meta.json"))
    meta.write_text("{}")
    house = _opened(own)
    assert _brought_up(house) == ["Compiling the newest edition"]
    assert house.shelf.current().number == 1


def test_without_database_and_edition_it_says_so_and_creates_nothing(tmp_path: Path) -> None:
    with pytest.raises(Unavailable, match="There is no catalogue"):
        _brought_up(_opened(tmp_path / "none"))
    assert not (tmp_path / "none").exists()


def test_a_catalogue_without_editions_may_be_served_and_waits_for_its_first(tmp_path: Path) -> None:
    house = _opened(tmp_path)
    upgrade(house.engine)  # tables, nothing in them
    assert _brought_up(house) == []
    assert not (tmp_path / "compiled").exists()


@pytest.mark.parametrize("lost", ["compiled", "chockbook.db"])
def test_serving_starts_with_the_database_or_with_the_compiled_edition(own: Path, lost: str) -> None:
    shutil.rmtree(own / lost) if lost == "compiled" else (own / lost).unlink()
    process = started(own, "serve", "--port", "0")
    try:
        assert process.stdout is not None
        assert re.search(r"http://127\.0\.0\.1:\d+", process.stdout.readline())
        assert (own / "compiled/CURRENT").exists()
    finally:
        process.terminate()
        _, said = process.communicate(timeout=20)
    assert ("Compiling the newest edition" in said) is (lost == "compiled")
