"""Databases for tests: every test that asks for one runs on SQLite and on PostgreSQL.

CHOCKBOOK_TEST_POSTGRES=no leaves PostgreSQL out, saying so; otherwise it must be there.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import Engine

from catalog.config import Settings
from catalog.services.house import House, open_house
from catalog.store.engine import open_engine
from catalog.store.migrate import upgrade
from tests.integration import api_demo
from tests.postgres import Cluster, PostgresMissing, cluster

Fill = Callable[[House], None]
Filled = Callable[[Fill], Settings]

# Read here: for the tests themselves every setting of the person running them is taken away.
_LEAVE_OUT = os.environ.get("CHOCKBOOK_TEST_POSTGRES") == "no"


@pytest.fixture(params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def database(request: pytest.FixtureRequest) -> str:
    """Which database the test runs on: "sqlite" or "postgres"."""
    return str(request.param)


@pytest.fixture(scope="session")
def postgres() -> Iterator[Cluster]:
    """The run's own PostgreSQL cluster."""
    with _cluster() as running:
        yield running


@pytest.fixture
def primary() -> Iterator[Cluster]:
    """A PostgreSQL cluster for one test, which may stop it."""
    with _cluster() as running:
        yield running


@contextmanager
def _cluster() -> Iterator[Cluster]:
    if _LEAVE_OUT:
        pytest.skip("PostgreSQL left out: CHOCKBOOK_TEST_POSTGRES=no")
    try:
        with cluster() as running:
            yield running
    except PostgresMissing as missing:
        pytest.fail(f"{missing}, or set CHOCKBOOK_TEST_POSTGRES=no to leave it out.")


@pytest.fixture(scope="session")
def served_demo(demo_data: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    """What api_demo serves: a copy, since what is asked there is counted."""
    api_demo.FOLDERS.append(Path(shutil.copytree(demo_data, tmp_path_factory.mktemp("api") / "data")))


@pytest.fixture(scope="session")
def postgres_template(postgres: Cluster) -> str:
    """A migrated database that others are cloned from."""
    name = postgres.create()
    _upgrade(postgres.url(name))
    return name


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated file that others are copied from."""
    path = tmp_path_factory.mktemp("template") / "template.db"
    _upgrade(f"sqlite:///{path}")
    return path


@pytest.fixture
def empty_database_url(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a database without tables; on SQLite, of a file that is not there yet."""
    if database == "sqlite":
        yield f"sqlite:///{tmp_path / 'empty.db'}"
        return
    running: Cluster = request.getfixturevalue("postgres")
    name = running.create()
    yield running.url(name)
    running.drop(name)


@pytest.fixture
def database_url(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a fresh, migrated database without contents."""
    if database == "sqlite":
        path = tmp_path / "catalogue.db"
        shutil.copyfile(request.getfixturevalue("sqlite_template"), path)
        yield f"sqlite:///{path}"
        return
    running: Cluster = request.getfixturevalue("postgres")
    name = running.create(request.getfixturevalue("postgres_template"))
    yield running.url(name)
    running.drop(name)


@pytest.fixture(scope="session")
def first_ones() -> dict[tuple[str, Fill], Settings]:
    """What `filled` copies from."""
    return {}


@pytest.fixture
def filled(
    database: str, first_ones: dict[tuple[str, Fill], Settings], request: pytest.FixtureRequest, tmp_path: Path
) -> Iterator[Filled]:
    """filled(fill) -> tmp_path / "data" and a database of this test's own, as fill(house) left the first.

    Filling and compiling takes a hundred times as long as copying what came of it.
    """
    running: Cluster | None = request.getfixturevalue("postgres") if database == "postgres" else None
    names = []

    def copied(fill: Fill) -> Settings:
        if (database, fill) not in first_ones:
            kept = request.getfixturevalue("tmp_path_factory").mktemp("first") / "data"
            first_ones[database, fill] = _filled(fill, kept, request)
        first, data = first_ones[database, fill], tmp_path / "data"
        shutil.copytree(first.data, data)
        if running is None:
            return Settings(data, f"sqlite:///{data / 'chockbook.db'}")
        names.append(running.create(first.database_url.rsplit("/", 1)[1]))
        return Settings(data, running.url(names[-1]))

    yield copied
    for name in names:
        assert running is not None
        running.drop(name)


def _filled(fill: Fill, data: Path, request: pytest.FixtureRequest) -> Settings:
    data.mkdir()
    if request.getfixturevalue("database") == "sqlite":
        shutil.copyfile(request.getfixturevalue("sqlite_template"), data / "chockbook.db")
        url = f"sqlite:///{data / 'chockbook.db'}"
    else:
        running: Cluster = request.getfixturevalue("postgres")
        url = running.url(running.create(request.getfixturevalue("postgres_template")))
    settings = Settings(data, url)
    house = open_house(settings)
    fill(house)
    house.engine.dispose()
    return settings


@pytest.fixture
def engine(database_url: str) -> Iterator[Engine]:
    """An engine for `database_url`."""
    made = open_engine(database_url)
    yield made
    made.dispose()


@pytest.fixture
def few_descriptions(monkeypatch: pytest.MonkeyPatch) -> None:
    """The search-quality run before a publication with 20 simulated descriptions instead of 300."""
    monkeypatch.setattr("catalog.services.gates.DESCRIPTIONS", 20)


def _upgrade(url: str) -> None:
    made = open_engine(url)
    upgrade(made)
    # Closing the last connection folds SQLite's log into the file, so that the file is all.
    made.dispose()
