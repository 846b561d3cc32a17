"""Files that are broken or meant to do harm: each is told from a good one, and none does harm."""

import json
import os
import subprocess
import sys
from dataclasses import replace

import pytest

from catalog.intake.files import LIMITS, apart, read_file
from catalog.intake.sheets import Contents
from tests.unit import hostile_files as made

SMALL = replace(LIMITS, memory=512 * 1024**2, processor=20, wall=40)


def only(contents: Contents) -> str:
    """What the one finding of a refused file says was found."""
    assert contents.refused
    assert not contents.sheets
    assert not len(contents.documents)
    [finding] = contents.findings
    assert finding.found
    assert finding.allowed
    assert finding.cure
    return finding.found


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("a.xlsx", b"", "empty"),
        ("a.csv", b"", "empty"),
        ("a.xlsx", made.OLE, "password"),
        ("a.csv", made.OLE, "password"),
        ("a.xlsx", made.workbook({"ports": [["code"]]})[:-400], "damaged"),
        ("a.xlsx", b"code;name\n", "no workbook"),
        ("a.csv", made.workbook({"ports": [["code"]]}), "a workbook"),
        ("a.xlsx", made.zip_of({"ports.csv": b"code\n"}), "a zip"),
        ("a.exe", b"MZ", "ends in .exe"),
        ("a", b"code\n", "ends in nothing"),
        ("a.xlsm", made.workbook({"ports": [["code"]]}), "macros"),
        ("a.xlsx", made.raw_workbook([], more={"xl/vbaProject.bin": b"x"}), "macros"),
        ("a.xlsx", made.raw_workbook([made.row(1, ("A1", "&a9;"))], before=made.ENTITIES), "a document type"),
        ("a.xlsx", made.raw_workbook([made.row(1, ("A1", "&a9;"))], before=made.OUTSIDE), "a document type"),
        ("a.xlsx", made.raw_workbook([], more={"xl/sharedStrings.xml": made.STRINGS}, strings=True), "cannot be read"),
        ("a.xlsx", made.raw_workbook([made.row(1, ("B1", "a"), ("A1", "b"))]), "out of their order"),
        ("a.xlsx", made.raw_workbook([made.row(2_000_000, ("A1", "a"))]), "a row 2000000"),
        ("a.xlsx", made.raw_workbook([made.row(1, ("XFE1", "a"))]), "a column XFE"),
        ("a.xlsx", made.raw_workbook([made.row(1, ("A1", "a")), "<row><c"]), "cannot be read"),
        ("a.xlsx", made.raw_workbook([made.row(1, ("XFD1", "a"))]), "column 16,384"),
        ("a.zip", made.bomb(20), "grows"),
        ("a.zip", made.zip_of({"inner.zip": made.bomb(1)}), "inside the zip"),
        ("a.csv", b"code\na\0b\n", "null character in line 2"),
        ("a.csv", b"code\nfl\xfcgel\n", "byte FC hex in line 2"),
        ("a.csv", b'code\n"open\n', "cut into columns"),
        ("a.json", b"{" * 100_000, "no JSON"),
        ("a.json", b"[" * 100_000 + b"]" * 100_000, "nesting deeper"),
        ("a.json", b'{"a":' * 5_000 + b"1" + b"}" * 5_000, "nesting deeper"),
        ("a.json", b'{"a": ' + b"9" * 5_000 + b"}", "5,000 digits"),
        ("a.json", b'{"a": NaN}', "NaN"),
        ("a.json", b'{"a": 1', "no JSON"),
    ],
)
def test_a_bad_file_is_refused_with_what_is_wrong(name: str, data: bytes, said: str) -> None:
    assert said in only(read_file(data, name, limits=SMALL))


def test_a_cell_in_the_last_corner_costs_nothing() -> None:
    corner = made.raw_workbook([made.row(1, ("A1", "code")), made.row(1_048_576, ("XFD1048576", "x"))])
    contents = read_file(corner, "a.xlsx", limits=SMALL)
    assert "column 16,384" in only(contents)
    assert contents.findings[0].place == "a.xlsx, sheet ports, cell XFD1048576"


@pytest.mark.slow
def test_a_million_rows_are_refused_by_their_number() -> None:
    many = made.raw_workbook(['<row><c t="inlineStr"><is><t>x</t></is></c></row>' * 1000] * 1000)
    limits = replace(SMALL, rows=50_000, ratio=1000)
    assert "more than 50,000 rows" in only(read_file(many, "a.xlsx", limits=limits))
    text = b"code\n" + b"x\n" * 1_000_000
    assert "more than 50,000 rows" in only(read_file(text, "a.csv", limits=limits))


@pytest.mark.slow
def test_limits_of_cells_sheets_members_documents_and_size() -> None:
    assert "bytes" in only(read_file(b"x" * 101, "a.csv", limits=replace(SMALL, size=100)))
    assert "cells" in only(read_file(b"a,b\nc,d\n", "a.csv", limits=replace(SMALL, cells=3)))
    assert "characters" in only(read_file(b"a\n" + b"x" * 100, "a.csv", limits=replace(SMALL, text=99)))
    two = made.workbook({"one": [["a"]], "two": [["b"]]})
    assert "2 sheets" in only(read_file(two, "a.xlsx", limits=replace(SMALL, sheets=1)))
    packed = made.zip_of({"a.csv": b"a\n", "b.csv": b"b\n"})
    assert "2 members" in only(read_file(packed, "a.zip", limits=replace(SMALL, members=1)))
    assert "when unpacked" in only(read_file(packed, "a.zip", limits=replace(SMALL, unpacked=3)))
    assert "more than may be read" in only(read_file(b"a\n" * 300_000, "a.csv", limits=replace(SMALL, output=999)))
    contents = read_file(b"{}\n{}\n", "a.jsonl", limits=replace(SMALL, documents=1))
    assert "more than 1 documents" in contents.findings[0].found


def test_a_file_that_needs_more_memory_than_there_is() -> None:
    """Room enough for the reader itself, not for what the file unpacks to."""
    wide = b"[" + b"[0]," * 4_000_000 + b"[0]]"
    contents = read_file(wide, "a.json", limits=replace(SMALL, memory=200 * 1024**2))
    assert "MB while it is read" in only(contents)


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        ("os.kill(os.getpid(), 9)", "stopped"),
        ("os.kill(os.getpid(), 11)", "fall over"),
        ("os._exit(3)", "fall over"),
        ("os._exit(0)", "MB while it is read"),
        ("[None for _ in iter(int, 1)]", "took longer than 1 seconds of work"),
        ("time.sleep(60)", "took longer than 3 seconds"),
        ("sys.stdout.write('S nonsense')", "MB while it is read"),
    ],
)
def test_a_file_that_kills_its_reader_kills_nothing_else(
    fault: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The fault stands in for a fault of a library that a file sets off."""
    start = f"import os, sys, time, json; sys.path.insert(0, {str(apart._ROOT)!r})"
    start += "; from catalog.intake.files import apart"
    limits = "apart.confine(apart.Limits(**json.loads(sys.argv[2])['limits']))"
    monkeypatch.setattr(apart, "_START", f"{start}; {limits}; {fault}")
    contents = read_file(b"code\n", "a.csv", limits=replace(SMALL, processor=1, wall=3))
    assert said in only(contents)
    monkeypatch.undo()
    assert read_file(b"code\n", "a.csv", limits=SMALL).sheets


def test_the_reader_takes_nothing_from_where_it_runs(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file named as a library in the folder, or a path in the environment, is not imported."""
    (tmp_path / "openpyxl.py").write_text("raise SystemExit(9)")  # type: ignore[operator]
    monkeypatch.chdir(str(tmp_path))
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    assert read_file(made.workbook({"ports": [["code"]]}), "a.xlsx", limits=SMALL).sheets


def test_formulas_are_found_and_never_run() -> None:
    book = made.workbook(
        {"ports": [["code", "voltage"], ["QPW-TF3", '=HYPERLINK("http://x.invalid","400")'], ["=1+1", 2]]}
    )
    contents = read_file(book, "a.xlsx", limits=SMALL)
    assert [finding.place for finding in contents.findings] == [
        "a.xlsx, sheet ports, cell B2",
        "a.xlsx, sheet ports, cell A3",
    ]
    assert all(finding.found.startswith("the formula") for finding in contents.findings)
    [sheet] = contents.sheets
    assert [[cell.text for cell in row] for row in sheet.rows] == [["QPW-TF3"], ["2"]]


def test_documents_with_a_key_twice_are_refused_and_others_read() -> None:
    lines = b'{"a": 1, "b": {"c": 1, "c": 2}}\n{"a": 1}\nnonsense\n[1]\n'
    contents = read_file(lines, "a.jsonl", limits=SMALL)
    assert [(finding.row, finding.found.split(" (")[0]) for finding in contents.findings] == [
        (1, "the key c twice in one object"),
        (3, "no JSON"),
        (4, "a list"),
    ]
    assert [document.content for document in contents.documents] == [{"a": 1}]
    whole = read_file(json.dumps([{"a": 1}]).encode()[:-1] + b', {"a": 1, "a": 1}]', "a.json", limits=SMALL)
    assert [finding.row for finding in whole.findings] == [2]
    assert len(whole.documents) == 1


def test_no_process_is_left_behind() -> None:
    read_file(b"code\n", "a.csv", limits=replace(SMALL, wall=1))
    children = subprocess.run(
        ["/bin/ps", "--ppid", str(os.getpid()), "-o", "args="], capture_output=True, text=True, check=False
    ).stdout
    assert "catalog.intake.files.child" not in children, sys.executable
