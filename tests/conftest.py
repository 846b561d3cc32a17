"""What every test stands on.

Fixtures here are for all tests; those of one folder live in its own conftest. Use the smallest
data that shows the point; a shape only one test needs goes into that test.
"""

import fcntl
import os
import shutil
import socket
from collections.abc import Generator, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

# Two slow cores must not fail a property; a failure is printed so that it can be repeated.
settings.register_profile("chockbook", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("chockbook")

_TESTS = Path(__file__).parent
_FIRST = {folder: place for place, folder in enumerate(("integration", "outside", "browser"))}
_LOCAL = ("127.0.0.1", "::1", "localhost")


@pytest.hookimpl(wrapper=True)
def pytest_collection(session: pytest.Session) -> Generator[None, object, object]:
    """Processes that share a run collect one after the other: the first translates all tests, the others read that."""
    with Path(__file__).open() as turn:
        if hasattr(session.config, "workerinput"):
            fcntl.flock(turn, fcntl.LOCK_EX)
        return (yield)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Folders of long files first; short files last, so that no process ends long after the others.

    A folder's files stay together: what a folder's conftest starts, such as a browser, is started once.
    """
    items.sort(key=lambda item: _FIRST.get(item.path.relative_to(_TESTS).parts[0], len(_FIRST)))


@pytest.fixture(autouse=True)
def nothing_of_the_person_running(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """No setting, data folder or terminal of the person running the tests reaches a test."""
    for name in tuple(os.environ):
        if name.startswith("CHOCKBOOK_"):
            monkeypatch.delenv(name)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path_factory.getbasetemp() / "data-home"))
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.delenv("COLUMNS", raising=False)


@pytest.fixture(scope="session")
def demo_data(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Iterator[Path]:
    """A data folder holding the demo catalogue, prepared once. For reading: copy it before writing."""
    from catalog.config import Settings
    from catalog.services.house import open_house
    from catalog.store.engine import read
    from catalog.store.people import all_accounts

    data = tmp_path_factory.mktemp("demo") / "data"
    shutil.copytree(_prepared_demo(tmp_path_factory.getbasetemp(), worker_id), data)
    house = open_house(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    with read(house.engine) as conn:
        people_there = all_accounts(conn)
    house.engine.dispose()  # who copies the folder copies no log of an open database
    yield data
    with read(house.engine) as conn:
        assert all_accounts(conn) == people_there, "a test wrote into what all tests read"
    house.engine.dispose()


def _prepared_demo(folder: Path, worker_id: str) -> Path:
    """Prepared by whichever process of this run comes first; the others wait for it."""
    from catalog.config import Settings
    from catalog.services.house import open_house
    from catalog.services.seeding import prepare_demo
    from seed_demo import load

    shared = folder if worker_id == "master" else folder.parent
    data, done = shared / "prepared-demo", shared / "prepared-demo.done"
    with (shared / "prepared-demo.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not done.exists():
            house = open_house(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
            prepare_demo(house, load(), lambda text: None)
            house.engine.dispose()
            done.touch()
    return data


@pytest.fixture(autouse=True, scope="session")
def no_outside_host() -> Iterator[None]:
    """A test that reaches for another host fails, naming it."""
    connect = socket.socket.connect

    def local_only(self: socket.socket, address: Any) -> None:
        if self.family in (socket.AF_INET, socket.AF_INET6) and address[0] not in _LOCAL:
            raise AssertionError(f"a test reached for {address[0]}")
        connect(self, address)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", local_only)
        yield


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Say where the time went, by folder under tests/."""
    seconds: dict[str, float] = {}
    for reports in terminalreporter.stats.values():
        for report in reports:
            if isinstance(report, pytest.TestReport):
                folder = Path(report.nodeid).parts[1]
                seconds[folder] = seconds.get(folder, 0.0) + report.duration
    if seconds:
        terminalreporter.section("seconds by folder")
        terminalreporter.line(", ".join(f"{folder} {spent:.0f}" for folder, spent in sorted(seconds.items())))
