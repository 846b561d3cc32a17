"""The whole application over the invented catalogue, prepared once per run."""

import shutil
import tempfile
from atexit import register
from functools import cache
from pathlib import Path

from flask import Flask

import seed_demo
from catalog.app import create_app
from catalog.config import Settings
from catalog.services.house import open_house
from catalog.services.seeding import prepare_demo


def app_without_database(folder: Path) -> Flask:
    """The same compiled edition, its database gone. folder: an empty one."""
    shutil.copytree(demo_app().extensions["chockbook"].settings.data / "compiled", folder / "compiled")
    return create_app(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))


@cache
def demo_app() -> Flask:
    """Edges, services, store and compiled edition as they are served."""
    folder = tempfile.TemporaryDirectory(prefix="chockbook-api-")
    register(folder.cleanup)
    data = Path(folder.name)
    settings = Settings(data, f"sqlite:///{data / 'chockbook.db'}")
    house = open_house(settings)
    prepare_demo(house, seed_demo.load(), lambda text: None)
    house.engine.dispose()
    return create_app(settings)
