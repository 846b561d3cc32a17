"""Through real files: what is exported as a workbook or as CSV and read back as any stranger's file is the same."""

import io
from collections.abc import Iterator, Mapping
from typing import Any

import openpyxl
import pytest
from hypothesis import HealthCheck, Phase, given, settings

from catalog.domain.canonical import content_hash
from catalog.errors import BadInput
from catalog.intake.applying import apply
from catalog.intake.book import write_workbook
from catalog.intake.csv_files import write_csv
from catalog.intake.files import read_file
from catalog.intake.groups import Group
from catalog.intake.mapping import Records
from catalog.intake.packing import LONGEST_CELL
from catalog.intake.rows import rows_of, source_rows
from catalog.intake.sheets import Contents
from catalog.intake.sourcing import sources_of
from seed_demo.files import read_families, read_sources
from tests.sample import sample
from tests.strategies import documents

# Every example starts a process: a failure is shown as it was drawn, not made smaller.
QUICK = (Phase.explicit, Phase.reuse, Phase.generate)
CODE = "QK7-M3M"
FORMS = {"xlsx": ("all.xlsx", write_workbook), "csv": ("all.zip", write_csv)}


def _rows(records: Mapping[str, Any], sources: Mapping[str, Any]) -> Iterator[tuple[Group, list[str]]]:
    for source in sources.values():
        yield from source_rows(source)
    for code, document in records.items():
        yield from rows_of(code, document)


def _through(form: str, records: Mapping[str, Any], sources: Mapping[str, Any] | None = None) -> Contents:
    name, write = FORMS[form]
    held = io.BytesIO()
    write(_rows(records, sources or {}), held)
    contents = read_file(held.getvalue(), name)
    assert contents.findings == ()
    return contents


@pytest.mark.parametrize("form", FORMS)
def test_every_demo_record_and_source_comes_back_byte_for_byte(form: str) -> None:
    records, sources = read_families(), read_sources()
    contents = _through(form, records, sources)
    read = Records(contents.sheets, contents.file)
    assert read.findings == ()
    back = {}
    for rows in read.raw():
        assert rows.same_as(records[rows.code])
        one = rows.read()
        back[one.code], found = apply(None, one)
        assert (one.findings, found) == ((), ())
    assert {code: content_hash(made) for code, made in back.items()} == {
        code: content_hash(document) for code, document in records.items()
    }
    made, _, wrong = sources_of(contents.sheets, contents.file)
    assert wrong == ()
    assert {key: content_hash(source) for key, source in made.items()} == {
        key: content_hash(source) for key, source in sources.items()
    }


@pytest.mark.parametrize("form", FORMS)
@given(drawn=documents())
@settings(max_examples=8, deadline=None, phases=QUICK, suppress_health_check=[HealthCheck.too_slow])
def test_any_document_comes_back(form: str, drawn: dict[str, Any]) -> None:
    contents = _through(form, {CODE: drawn})
    (one,) = Records(contents.sheets, contents.file)
    made, found = apply(None, one)
    assert (one.findings, found) == ((), ())
    assert content_hash(made) == content_hash(drawn)


def _one_note(text: str) -> Iterator[tuple[Group, list[str]]]:
    document = sample({"notes": [{"id": "a", "lang": "en", "text": text, "src": ["KEL-7/1:4"]}]})
    return rows_of(CODE, document)


TEXTS = (
    "=1+1", "+4", "-3 is what it says", "@x", "'tick", "two\nlines", "_x0041_", "x005F_", "_x005F_x0041_", "<&>\"'",
    "\uffff at the end of the plane", "\U0001f692", "a" * 20_000,
)  # fmt: skip


@pytest.mark.parametrize("form", FORMS)
def test_texts_that_files_trip_over_come_back(form: str) -> None:
    notes = [{"id": f"n{at}", "lang": "en", "text": text, "src": ["KEL-7/1:4"]} for at, text in enumerate(TEXTS)]
    contents = _through(form, {CODE: sample({"notes": notes})})
    (one,) = Records(contents.sheets, contents.file)
    made, found = apply(None, one)
    assert (one.findings, found) == ((), ())
    assert [note["text"] for note in made["notes"]] == list(TEXTS)


def test_a_text_beyond_a_cell_s_limit_is_refused_not_cut() -> None:
    for text in ("a" * (LONGEST_CELL + 1), "\U0001f692" * (LONGEST_CELL // 2 + 1)):
        with pytest.raises(BadInput, match="32,767 characters"):
            write_workbook(_one_note(text), io.BytesIO())


def test_no_cell_of_a_workbook_is_a_formula_or_a_number() -> None:
    held = io.BytesIO()
    write_workbook(_one_note("=1+1"), held)
    book = openpyxl.load_workbook(held)
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert cells
    assert {cell.data_type for cell in cells} == {"s"}


def test_letters_and_marks_become_one_character() -> None:
    (one,) = Records(
        read_file("code,note id,language,text,source\nQK7-M3M,a,en,Me\u0301lo,KEL-7/1:4".encode(), "notes.csv").sheets,
        "notes.csv",
    )
    assert one.sets["notes[a].text"].claims == ({"value": "M\u00e9lo"},)
