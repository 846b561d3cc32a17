"""A running host comes to a newer edition by itself, and goes on answering without its database."""

import errno
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

import seed_demo
from catalog.config import Settings
from catalog.services.following import follow
from catalog.services.house import House, open_house
from catalog.services.records import read_record
from catalog.services.resolving import Description, resolve_description
from catalog.services.seeding import prepare_demo


def _house(folder: Path, database_url: str) -> House:
    return open_house(Settings(folder, database_url))


@pytest.fixture
def early(tmp_path: Path) -> Iterator[House]:
    """A house that knows the demo's first edition only."""
    house = _house(tmp_path, f"sqlite:///{tmp_path / 'chockbook.db'}")
    demo = seed_demo.load()
    prepare_demo(house, replace(demo, editions=demo.editions[:1]), lambda _: None)
    yield house
    house.engine.dispose()


def test_a_newer_edition_is_compiled_and_answered_from(early: House) -> None:
    assert early.shelf.current().number == 1
    publisher = _house(early.settings.data / "elsewhere", early.settings.database_url)
    stop = threading.Event()
    thread = follow(early, stop)
    try:
        prepare_demo(publisher, seed_demo.load(), lambda _: None)
        ends = time.monotonic() + 30
        while early.shelf.current().number < 3 and time.monotonic() < ends:
            time.sleep(0.1)
        assert early.shelf.current().number == 3
    finally:
        stop.set()
        thread.join(10)
        publisher.engine.dispose()
    assert not thread.is_alive()


def test_reading_goes_on_while_the_database_is_away(early: House) -> None:
    (early.settings.data / "chockbook.db").rename(early.settings.data / "gone.db")
    early.engine.dispose()
    answer = resolve_description(early, Description("pickup, port left rear"))
    assert answer.candidates
    assert read_record(early, answer.candidates[0].code).record.identity.title == answer.candidates[0].title


def test_a_complaint_is_made_once_not_every_second(early: House, caplog: pytest.LogCaptureFixture) -> None:
    (early.settings.data / "chockbook.db").rename(early.settings.data / "gone.db")
    early.engine.dispose()
    stop = threading.Event()
    thread = follow(early, stop)
    time.sleep(3.2)
    stop.set()
    thread.join(10)
    assert sum("cannot be looked up" in message for message in caplog.messages) == 1


def test_a_full_disk_does_not_end_the_following(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tried = threading.Semaphore(0)

    def full(house: House) -> None:
        tried.release()
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("catalog.services.following.catch_up", full)
    stop = threading.Event()
    thread = follow(_house(tmp_path, f"sqlite:///{tmp_path / 'chockbook.db'}"), stop)
    assert all(tried.acquire(timeout=10) for _ in range(2))
    stop.set()
    thread.join(10)
