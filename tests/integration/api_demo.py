"""The whole application over the invented catalogue. Modules that ask for it use the fixture served_demo."""

import shutil
from functools import cache
from pathlib import Path

from flask import Flask

from catalog.app import create_app
from catalog.config import Settings

FOLDERS: list[Path] = []  # one, put there by served_demo


def app_without_database(folder: Path) -> Flask:
    """The same compiled edition, its database gone. folder: an empty one."""
    shutil.copytree(demo_app().extensions["chockbook"].settings.data / "compiled", folder / "compiled")
    return create_app(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))


@cache
def demo_app() -> Flask:
    """Edges, services, store and compiled edition as they are served."""
    [data] = FOLDERS
    return create_app(Settings(data, f"sqlite:///{data / 'chockbook.db'}"))
