"""What is read of good files: every way a steward may save one gives the same cells."""

import datetime
import json
from pathlib import Path

import pytest

from catalog.intake.files import read_file, read_folder
from catalog.intake.files.columns import separator_of
from catalog.intake.files.workbook import text_of
from catalog.intake.finding import Finding, column_letters
from catalog.intake.sheets import Cell, Contents, Sheet
from tests.unit.hostile_files import workbook, zip_of

TABLE = [["code", "label"], ["QPW-TF3", 'says "pull", then\nwait'], ["9WZ-K3R", "Größe; wide"]]


def texts(sheet: Sheet) -> list[list[str]]:
    return [[cell.text for cell in row] for row in (sheet.headings, *sheet.rows)]


def csv_text(separator: str) -> str:
    quoted = [[f'"{field.replace(chr(34), chr(34) * 2)}"' for field in row] for row in TABLE]
    return "".join(f"{separator.join(row)}\r\n" for row in quoted)


def sheet_of(contents: Contents) -> Sheet:
    assert not contents.findings, contents.findings
    [sheet] = contents.sheets
    return sheet


@pytest.mark.parametrize(
    ("data", "name", "encoding"),
    [
        (workbook({"ports": TABLE}), "ports.xlsx", ""),
        (csv_text(",").encode(), "ports.csv", ""),
        (csv_text(";").encode("utf-8-sig"), "ports.csv", ""),
        (csv_text("\t").encode("utf-16"), "ports.tsv", ""),
        (csv_text("|").encode("cp1252"), "ports.csv", "cp1252"),
        (zip_of({"ports.csv": csv_text(";").encode(), "__MACOSX/._ports.csv": b"\0"}), "update.zip", ""),
    ],
    ids=["workbook", "comma", "semicolon, mark", "tab, UTF-16", "bar, said", "zip"],
)
def test_the_same_cells_however_they_are_saved(data: bytes, name: str, encoding: str) -> None:
    sheet = sheet_of(read_file(data, name, encoding))
    assert sheet.name == "ports"
    assert texts(sheet) == TABLE
    assert sheet.headings[1] == Cell("label", 1, 2)
    assert sheet.rows[1][0] == Cell("9WZ-K3R", 3, 1)
    assert sheet.rows[0:2] == tuple(sheet.rows)


def test_rows_keep_their_numbers_and_empty_cells_are_left_out() -> None:
    sheet = sheet_of(read_file(b"\n,code,,label\n\n , ,,\n,,,x\n", "a.csv"))
    assert sheet.headings == (Cell("code", 2, 2), Cell("label", 2, 4))
    assert list(sheet.rows) == [(Cell("x", 5, 4),)]


def test_a_folder_is_read_as_its_files(tmp_path: Path) -> None:
    (tmp_path / "ports.csv").write_bytes(csv_text(",").encode())
    (tmp_path / "airbags.csv").write_text("code,place\n")
    (tmp_path / "more").mkdir()
    contents = read_folder(tmp_path)
    assert [(sheet.name, sheet.file) for sheet in contents.sheets] == [
        ("airbags", "airbags.csv"),
        ("ports", "ports.csv"),
    ]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (" 400 V ", "400 V"),
        (400.0, "400"),
        (0.4, "0.4"),
        (0.1 + 0.2, "0.3"),
        (77, "77"),
        (True, "TRUE"),
        (datetime.datetime.fromisoformat("2026-03-02"), "2026-03-02"),
        (datetime.date(2026, 3, 2), "2026-03-02"),
        (datetime.datetime.fromisoformat("2026-03-02T08:30"), "2026-03-02 08:30:00"),
        (1e20, "1e+20"),
    ],
)
def test_values_of_cells_as_text(value: object, text: str) -> None:
    assert text_of(value) == text


def test_a_hidden_sheet_is_not_read() -> None:
    """The lists behind a template's drop-downs are no data."""
    import io

    import openpyxl

    book = openpyxl.load_workbook(io.BytesIO(workbook({"ports": TABLE, "lists": [["a"]]})))
    book["lists"].sheet_state = "hidden"
    saved = io.BytesIO()
    book.save(saved)
    assert sheet_of(read_file(saved.getvalue(), "a.xlsx")).name == "ports"


@pytest.mark.parametrize(
    ("text", "separator"),
    [("code;label\na;b, c, d, e\n", ";"), ("code,label\na,b; c\n", ","), ("code\nx\n", ","), ("a|b\n1|2\n", "|")],
)
def test_separators(text: str, separator: str) -> None:
    assert separator_of(text) == separator


def test_documents_plain_wrapped_and_partial() -> None:
    plain, wrapped = {"format": 1, "identity": {}}, {"kind": "record", "key": "K", "document": {"b": 1, "a": "é"}}
    partial = {"key": "K", "changes": {"a": 1}}
    lines = "\n".join(json.dumps(one) for one in (plain, wrapped, partial)).encode()
    for contents in (
        read_file(lines, "a.jsonl"),
        read_file(json.dumps([plain, wrapped, partial]).encode(), "a.json"),
        read_file(json.dumps({"records": [plain, wrapped, partial]}).encode(), "a.json"),
    ):
        one, two, three = contents.documents
        assert one.content == plain
        assert not one.about
        assert (two.text, two.about, two.partial) == ('{"a":"é","b":1}'.encode(), {"kind": "record", "key": "K"}, False)
        assert (three.content, three.partial, three.row) == ({"a": 1}, True, 3)
        assert contents.documents[0:1] == (one,)


def test_where_a_finding_stands() -> None:
    assert [column_letters(number) for number in (1, 26, 27, 703, 16_384)] == ["A", "Z", "AA", "AAA", "XFD"]
    assert Finding("a.xlsx", "ports", 7, 4, "", "").place == "a.xlsx, sheet ports, cell D7"
    assert Finding("a.jsonl", "", 7, 0, "", "").place == "a.jsonl, line 7"
    assert Finding("a.xlsx", "", 0, 0, "", "").place == "a.xlsx"
