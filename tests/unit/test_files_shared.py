"""A large workbook is read by two processes: what comes of it is what one process reads."""

import os
from dataclasses import replace
from typing import Any

import pytest

from catalog.intake.files import LIMITS, apart, read_file, reading
from catalog.intake.files.workbook import deal
from catalog.intake.sheets import Contents
from tests.unit import hostile_files as made

SHEETS: dict[str, list[list[Any]]] = {
    "ports": [["code", "voltage"], ["QPW-TF3", "=1+1"], ["HMC-7PK", 400]],
    "identity": [["code", "make"], *[["QPW-TF3", f"Quellorne {number}"] for number in range(50)]],
    "empty": [],
    "notes": [["code", "text"], ["QPW-TF3", "=2+2"]],
    "lists": [["code"], ["QPW-TF3"]],
}


def read(data: bytes, monkeypatch: pytest.MonkeyPatch, readers: int, **limits: int) -> Contents:
    monkeypatch.setattr(reading, "_LARGE", 0)
    monkeypatch.setattr(reading, "_READERS", readers)
    monkeypatch.setattr(os, "cpu_count", lambda: 4)
    return read_file(data, "a.xlsx", limits=replace(LIMITS, **limits))


def told(contents: Contents) -> list[object]:
    return [(sheet.name, sheet.headings, tuple(sheet.rows)) for sheet in contents.sheets]


def test_sheets_are_dealt_whole_and_evenly() -> None:
    assert deal([5, 9, 1, 4, 0], 2) == [1, 0, 0, 1, 1]
    assert deal([5, 9], 1) == [0, 0]
    assert deal([], 2) == []


@pytest.mark.parametrize("readers", [2, 3, 7])
def test_several_readers_read_what_one_does(monkeypatch: pytest.MonkeyPatch, readers: int) -> None:
    book = made.workbook(SHEETS)
    one, more = read(book, monkeypatch, 1), read(book, monkeypatch, readers)
    assert [sheet.name for sheet in one.sheets] == ["ports", "identity", "notes", "lists"]
    assert told(more) == told(one)
    assert len(one.findings) == len(more.findings) == 2
    assert set(more.findings) == set(one.findings)


def test_what_is_wrong_with_all_of_it_is_said_once(monkeypatch: pytest.MonkeyPatch) -> None:
    contents = read(made.raw_workbook([], more={"xl/vbaProject.bin": b"x"}), monkeypatch, 2)
    assert contents.refused
    [finding] = contents.findings
    assert "macros" in finding.found


def test_cells_of_all_readers_count_together(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither half of the sheets is beyond the limit."""
    book = made.workbook({"one": [["a", "b"]], "two": [["c", "d"]]})
    assert len(read(book, monkeypatch, 2, cells=4).sheets) == 2
    contents = read(book, monkeypatch, 2, cells=3)
    assert contents.refused
    assert not contents.sheets
    assert contents.findings[0].found == "4 cells"


def test_a_reader_that_dies_takes_the_whole_file_with_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a workbook would be taken for all of it."""
    start = apart._START
    faulty = start.replace(
        "import sys;", "import sys, json, os; json.loads(sys.argv[2])['share'][0] == 1 and os._exit(3);"
    )
    assert faulty != start
    monkeypatch.setattr(apart, "_START", faulty)
    contents = read(made.workbook(SHEETS), monkeypatch, 2)
    assert contents.refused
    assert not contents.sheets
    assert "fall over" in contents.findings[0].found
