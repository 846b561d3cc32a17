"""The demo catalogue, made anew in a temporary folder: what evaluations measure against."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import seed_demo
from catalog.config import Settings
from catalog.services.house import House, open_house
from catalog.services.seeding import prepare_demo


@contextmanager
def demo_house() -> Iterator[House]:
    """A house with all demo editions, gone afterwards."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        house = open_house(Settings(data=data, database_url=f"sqlite:///{data / 'chockbook.db'}"))
        prepare_demo(house, seed_demo.load(), lambda _: None)
        yield house
