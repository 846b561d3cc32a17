"""Houses with the demo catalogue to compose briefs in, on either database."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import pytest
from sqlalchemy import Engine

from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.briefs import BriefAsked
from catalog.services.house import House, open_house
from catalog.services.seeding import prepare_demo
from seed_demo import load
from tests.postgres import Cluster

DISPATCHER = actor_of("jonah.tellwright", Role.DISPATCHER, "test")
STEWARD = actor_of("tamsin.orrell", Role.STEWARD, "test")
READER = actor_of("idris.fennimoor", Role.READER, "test")
CODE = "QPW-TF3"
# Words of a caller that no vehicle, cue or step has.
CALLER = "my name is Wilhelmina Quistgaard, ring me on 07700 900123, zebracorn velvetine"
SAID = f"{CALLER}, white pickup, port left rear, badge brantok, steaming"
ASKED = BriefAsked(text=SAID, scene={"trapped": "yes"}, incident="0417", key="k3VvX0cQ9b2LrT7mZ4aP1w8E")


@contextmanager
def house_on(request: pytest.FixtureRequest, demo_data: Path, folder: Path) -> Iterator[House]:
    """The demo, published and compiled, in a database of its own. request.param: sqlite or postgres."""
    shutil.copytree(demo_data, folder)
    if request.param == "sqlite":
        with _opened(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}")) as house:
            yield house
        return
    running: Cluster = request.getfixturevalue("postgres")
    name = running.create(_published(running))
    with _opened(Settings(folder, running.url(name))) as house:
        yield house
    running.drop(name)


@contextmanager
def _opened(settings: Settings) -> Iterator[House]:
    house = open_house(settings)
    yield house
    house.engine.dispose()


@cache
def _published(running: Cluster) -> str:
    """A database with the demo, made once a cluster, for others to be cloned from."""
    name = running.create()
    with tempfile.TemporaryDirectory() as folder, _opened(Settings(Path(folder), running.url(name))) as house:
        prepare_demo(house, load(), lambda text: None)
    return name


def without_database(house: House, folder: Path) -> House:
    """The same compiled editions, the database gone."""
    shutil.copytree(house.settings.data / "compiled", folder / "compiled")
    return open_house(Settings(folder, f"sqlite:///{folder / 'gone.db'}"))


def everything_stored(engine: Engine) -> str:
    """Every value of every table, for looking whether something is there."""
    with engine.connect() as conn:
        if conn.dialect.name == "sqlite":
            tables = conn.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'table'").scalars().all()
        else:
            tables = conn.exec_driver_sql("SELECT tablename FROM pg_tables WHERE schemaname = 'public'").scalars().all()
        rows = [row for table in tables for row in conn.exec_driver_sql(f'SELECT * FROM "{table}"')]
    return "\n".join(
        bytes(v).decode("utf-8", "replace") if isinstance(v, bytes | memoryview) else str(v)
        for row in rows
        for v in row
    )
