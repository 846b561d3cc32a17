"""What an answer warns of: swapped sides, a VIN that nothing else fits, a prior that alone decides."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from catalog.config import Settings
from catalog.resolve.answering import notes as wording
from catalog.services.house import House, open_house
from catalog.services.popularity import Popularity
from catalog.services.resolving import Description, resolve_description

NAMED = "Quellorne Brantock pickup, port"


@pytest.fixture(scope="module")
def house(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    folder = Path(shutil.copytree(demo_data, tmp_path_factory.mktemp("warnings") / "data"))
    made = open_house(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))
    yield made
    made.engine.dispose()


def warnings(house: House, text: str) -> tuple[str, ...]:
    return resolve_description(house, Description(text)).warnings


def test_a_port_on_the_other_side_of_what_all_else_fits_is_told(house: House) -> None:
    assert wording.SIDES_SWAPPED in warnings(house, f"{NAMED} right rear")
    assert wording.SIDES_SWAPPED not in warnings(house, f"{NAMED} left rear")
    assert wording.SIDES_SWAPPED not in warnings(house, "white pickup, port right rear")


def test_what_does_not_fit_a_clear_vin_is_told(house: House) -> None:
    told = resolve_description(house, Description("VIN EA4ME4EC1N0000001, a motorbike"))
    assert told.candidates[0].code == "26F-RWN"
    assert told.candidates[0].chance.probability > 0.98
    assert wording.vin_contradicted(["body motorcycle"]) in told.warnings
    assert told.warnings != warnings(house, "VIN EA4ME4EC1N0000001")


def test_how_common_a_vehicle_is_has_a_bar_and_a_warning_of_its_own(house: House) -> None:
    text = "pickup"
    even = resolve_description(house, Description(text, include=frozenset({"why"})))
    assert wording.PRIOR_DECIDES not in even.warnings
    second = even.candidates[1].code
    met = replace(house, popularity=Popularity({second: 1.0}))
    common = resolve_description(met, Description(text, include=frozenset({"why"})))
    assert common.candidates[0].code == second
    assert wording.PRIOR_DECIDES in common.warnings
    assert even.candidates[0].bars[0].label == common.candidates[0].bars[0].label == "how common it is"
    assert even.candidates[0].bars[0].bits == pytest.approx(0)
    assert common.candidates[0].bars[0].bits > 3
