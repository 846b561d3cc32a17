"""The demo's guide update is what its script makes."""

import pytest

from catalog.intake.files import read_file
from tests.update_workbook import CAME, CORRECTED, FOLDER, sheets


@pytest.mark.parametrize(("name", "corrected"), [(CAME, False), (CORRECTED, True)])
def test_the_committed_workbook_is_what_the_script_makes(name: str, corrected: bool) -> None:
    contents = read_file((FOLDER / name).read_bytes(), name)
    assert not contents.findings
    held = {
        sheet.name: [{cell.column: cell.text for cell in row} for row in (sheet.headings, *sheet.rows)]
        for sheet in contents.sheets
    }
    made = {
        key: [{at: text for at, text in enumerate(row, 1) if text} for row in rows]
        for key, rows in sheets(corrected=corrected).items()
    }
    assert held == made
