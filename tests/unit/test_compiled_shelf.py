"""Which edition requests are answered from, and when a newer one is seen."""

import gc
import logging
import os
import shutil
import threading
from pathlib import Path

import numpy as np
import pytest

from catalog.compiled import Compiled, Shelf, open_edition
from catalog.compiled.manifest import FileMark
from catalog.errors import IntegrityError, Unavailable
from tests.unit.compiled_sample import CODES, name_of, put, sample, tables

OPENS = "catalog.compiled.shelf.open_edition"


class Clock:
    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def shelf(tmp_path: Path, clock: Clock) -> Shelf:
    put(tmp_path, 1)
    return Shelf(tmp_path, clock=clock)


def damage(root: Path, number: int) -> None:
    (root / "editions" / name_of(sample(number)) / "meta.json").write_text("{}")


def test_nothing_compiled_yet_says_what_to_run(tmp_path: Path) -> None:
    with pytest.raises(Unavailable, match="No edition of the catalogue is compiled") as caught:
        Shelf(tmp_path / "none").current()
    assert "chockbook demo --no-serve" in caught.value.cure
    assert not (tmp_path / "none").exists()


def test_what_was_missing_is_found_when_it_is_there(tmp_path: Path, clock: Clock) -> None:
    shelf = Shelf(tmp_path, clock=clock)
    with pytest.raises(Unavailable):
        shelf.current()
    put(tmp_path, 1)
    assert shelf.current().number == 1


def test_one_edition_is_opened_once(shelf: Shelf, clock: Clock) -> None:
    first = shelf.current()
    clock.now += 500
    assert shelf.current() is first


def test_building_what_is_there_makes_nobody_open_it_again(shelf: Shelf, clock: Clock, tmp_path: Path) -> None:
    first = shelf.current()
    put(tmp_path, 1)
    clock.now += 1
    assert shelf.current() is first


def test_the_same_edition_from_other_input_is_taken(shelf: Shelf, clock: Clock, tmp_path: Path) -> None:
    first = shelf.current()
    put(tmp_path, 1, tables=tables(7))
    clock.now += 1
    assert shelf.current() is not first
    assert shelf.current().tables.arrays["sig_body"][1] == 7


def test_a_swap_is_seen_within_a_second_and_not_before(shelf: Shelf, clock: Clock, tmp_path: Path) -> None:
    assert shelf.current().number == 1
    put(tmp_path, 2)
    clock.now += 0.99
    assert shelf.current().number == 1
    clock.now += 0.01
    assert shelf.current().number == 2


def test_current_is_looked_at_once_a_second(
    shelf: Shelf, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf.current()
    looks: list[float] = []
    real = os.stat

    def counted(path: object, **named: object) -> os.stat_result:
        if str(path).endswith("CURRENT"):
            looks.append(clock.now)
        return real(path, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "stat", counted)
    for _ in range(1000):
        clock.now += 0.01
        shelf.current()
    assert 9 <= len(looks) <= 10


def test_an_old_reference_reads_on_after_the_swap_and_after_its_files_are_gone(
    shelf: Shelf, clock: Clock, tmp_path: Path
) -> None:
    old = shelf.current()
    for number in range(2, 6):
        put(tmp_path, number)
    clock.now += 1
    assert shelf.current().number == 5
    assert not (tmp_path / "editions" / name_of(sample(1))).exists()
    gc.collect()
    assert old.number == 1
    for code, _, _, content in sample(1).records:
        assert old.record_bytes(code) == content
    assert old.source_bytes("ZZT-12/3") == b'{"k":2}'
    for name, array in tables(1).arrays.items():
        assert np.array_equal(old.tables.arrays[name], array)
    total, hits = old.text.find('"cut loop" edition1', 10)
    assert total == 3
    assert hits[0].snippet[0] == ("Cut", True)


def test_a_damaged_newer_edition_is_logged_once_and_the_older_answers(
    shelf: Shelf, clock: Clock, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    held = shelf.current()
    put(tmp_path, 2)
    damage(tmp_path, 2)
    with caplog.at_level(logging.ERROR):
        for _ in range(100):
            clock.now += 1
            assert shelf.current() is held
    assert len(caplog.records) == 1
    assert "meta.json" in caplog.text
    assert "Answering from edition 1" in caplog.text


def test_a_damaged_edition_is_not_read_again_every_second(
    shelf: Shelf, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf.current()
    put(tmp_path, 2)
    damage(tmp_path, 2)
    tries: list[float] = []

    def counted(folder: Path, checked: dict[FileMark, str]) -> Compiled:
        tries.append(clock.now)
        return open_edition(folder, checked)

    monkeypatch.setattr(OPENS, counted)
    for _ in range(90):
        clock.now += 1
        shelf.current()
    assert len(tries) == 3


def test_a_repaired_edition_is_taken(shelf: Shelf, clock: Clock, tmp_path: Path) -> None:
    shelf.current()
    put(tmp_path, 2)
    damage(tmp_path, 2)
    clock.now += 1
    assert shelf.current().number == 1
    put(tmp_path, 2)
    clock.now += 1
    assert shelf.current().number == 2


def test_a_damaged_only_edition_is_refused_until_it_is_built_again(tmp_path: Path, clock: Clock) -> None:
    put(tmp_path, 1)
    damage(tmp_path, 1)
    shelf = Shelf(tmp_path, clock=clock)
    for _ in range(3):
        with pytest.raises(IntegrityError, match=r"meta\.json"):
            shelf.current()
    put(tmp_path, 1)
    assert shelf.current().codes == CODES


@pytest.mark.parametrize("text", ["", "../../etc", "1-short", "nonsense\n", "\x00"])
def test_a_current_that_names_no_edition_is_refused(tmp_path: Path, text: str) -> None:
    put(tmp_path, 1)
    (tmp_path / "CURRENT").write_text(text)
    with pytest.raises(IntegrityError, match="CURRENT names no edition"):
        Shelf(tmp_path).current()


def test_current_may_go_away_under_an_open_edition(
    shelf: Shelf, clock: Clock, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    held = shelf.current()
    shutil.rmtree(tmp_path)
    clock.now += 1
    assert shelf.current() is held
    assert "is gone" in caplog.text


def test_what_the_system_refuses_to_read_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path, 1)

    def refuse(_: Path, checked: dict[FileMark, str]) -> Compiled:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(OPENS, refuse)
    with pytest.raises(Unavailable, match="Permission denied"):
        Shelf(tmp_path).current()


def test_threads_that_come_first_together_open_it_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path, 1)
    opened: list[Path] = []

    def counted(folder: Path, checked: dict[FileMark, str]) -> Compiled:
        opened.append(folder)
        return open_edition(folder, checked)

    monkeypatch.setattr(OPENS, counted)
    shelf = Shelf(tmp_path)
    seen: list[Compiled] = []
    threads = [threading.Thread(target=lambda: seen.append(shelf.current())) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(opened) == 1
    assert len(seen) == 8
    assert all(one is seen[0] for one in seen)


def test_nobody_waits_while_one_thread_opens_the_newer(
    shelf: Shelf, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = shelf.current()
    put(tmp_path, 2)
    began, go_on = threading.Event(), threading.Event()

    def slow(folder: Path, checked: dict[FileMark, str]) -> Compiled:
        began.set()
        assert go_on.wait(20)
        return open_edition(folder, checked)

    monkeypatch.setattr(OPENS, slow)
    clock.now += 1
    seen: list[Compiled] = []
    opener = threading.Thread(target=lambda: seen.append(shelf.current()))
    opener.start()
    assert began.wait(20)
    clock.now += 5
    assert shelf.current() is old
    go_on.set()
    opener.join()
    assert seen[0].number == 2
    assert shelf.current() is seen[0]


def test_readers_meet_whole_editions_only_while_they_are_swapped(tmp_path: Path) -> None:
    put(tmp_path, 1)
    ticks = iter(range(10**9))
    shelf = Shelf(tmp_path, clock=lambda: float(next(ticks)))  # every call looks
    wrong: list[str] = []
    stop = threading.Event()

    def ask() -> None:
        while not stop.is_set():
            held = shelf.current()
            said = held.record_bytes(CODES[0])
            if f'"n":{held.number},'.encode() not in said or held.text.find(f"edition{held.number}", 5)[0] != 3:
                wrong.append(f"{held.number}: {said!r}")

    threads = [threading.Thread(target=ask) for _ in range(4)]
    for thread in threads:
        thread.start()
    try:
        for number in range(2, 9):
            put(tmp_path, number)
    finally:
        stop.set()
        for thread in threads:
            thread.join()
    assert wrong == []
    assert shelf.current().number == 8


def test_an_edition_opened_before_a_fork_is_read_after_it(shelf: Shelf) -> None:
    """As gunicorn does when it loads the application first."""
    held = shelf.current()
    child = os.fork()
    if child == 0:  # pragma: no cover - in the child
        fine = held.record_bytes(CODES[0]) == sample(1).records[-1].content  # type: ignore[index]
        for _ in range(50):
            fine = fine and held.text.find('"cut loop"', 5)[0] == 3
        os._exit(0 if fine else 1)
    for _ in range(50):
        assert held.text.find('"cut loop"', 5)[0] == 3
    assert os.waitpid(child, 0)[1] == 0
