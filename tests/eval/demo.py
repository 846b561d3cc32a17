"""The demo catalogue, made anew in a temporary folder: what evaluations measure against."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import seed_demo
from catalog.config import Settings
from catalog.services.house import House, open_house
from catalog.services.seeding import prepare_demo

# The folder where evaluations that run one after the other keep the demo for each other.
KEPT = "EVALUATION_DEMO"


@contextmanager
def demo_house() -> Iterator[House]:
    """A house with all demo editions, gone afterwards."""
    with tempfile.TemporaryDirectory() as folder:
        prepare(Path(folder))
        yield house_in(Path(folder))


def prepare(data: Path) -> None:
    """All demo editions in an empty folder."""
    first = Path(os.environ.get(KEPT, data))
    if not (first / "chockbook.db").exists():
        house = house_in(first)
        prepare_demo(house, seed_demo.load(), lambda _: None)
        house.engine.dispose()  # who copies the folder copies no log of an open database
    if first != data:
        shutil.copytree(first, data, dirs_exist_ok=True)


def house_in(data: Path) -> House:
    """The house whose data folder and database this is."""
    return open_house(Settings(data=data, database_url=f"sqlite:///{data / 'chockbook.db'}"))
