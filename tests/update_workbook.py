"""The demo's guide update as workbooks: `python -m tests.update_workbook --write`.

Two files of the invented maker Quellorne for the walk-through in the README: as it came, with the faults that such
files have, and as a steward put it right. Everything in them is invented.
"""

import argparse
import sys
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

import openpyxl

FOLDER = Path(__file__).parents[1] / "seed_demo" / "updates"
CAME, CORRECTED = "quellorne-2026-10.xlsx", "quellorne-2026-10-corrected.xlsx"
_MADE = datetime(2026, 10, 26, 9, 0, tzinfo=UTC).replace(tzinfo=None)

Rows = Sequence[Sequence[str]]

_SOURCE = (
    "QLN-118", "3", "maker's guide", "Quellorne Brantock and Tarlowby pickups: emergency response guide",
    "Quellorne Technical Press", "2026-10-12", "2026-10-26", "26",
)  # fmt: skip
_MOVED = "left front quarter, mid height, under the bonnet, point 170/230/520"
_REACHED = "on its wheels; right side down; rear crushed"
_STALE = "Bonnet, then the grey lid behind the left strut"
_LID = "Bonnet, then the orange lid beside the washer filler"


def sheets(*, corrected: bool) -> Mapping[str, Rows]:
    """Rows by sheet. corrected: with the faults put right."""
    identity = [["code", "make", "model", "model years from", "model years to", "propulsion", "source"]]
    if not corrected:
        # A duplicate: this vehicle is listed as QPW-TF3, which has a row of its own below.
        identity.append(["NEW 1", "Quellorne", "Brantock", "2022", "2024", "battery electric", "QLN-118/3:4"])
    ways = [
        ["code", "vehicle", "way id", "where", "reachable when", "open or remove first", "source"],
        # The cut point moves.
        ["KDF-F3R", "Quellorne Brantock Series 2", "loop", _MOVED, _REACHED, _LID, "QLN-118/3:10"],
        # A stale source: issue 2 says something else, and is stated now.
        ["QPW-TF3", "Quellorne Brantock", "loop", "", "", _STALE, "QLN-118/1:10"],
    ]
    ports = [
        ["code", "vehicle", "charge port id", "connector standard", "source"],
        ["NQC-CPD", "Quellorne Tarlowby Plug", "a", "Type 1" if corrected else "CCS 3", "QLN-118/3:8"],
    ]
    packs = [
        ["code", "vehicle", "pack id", "nominal voltage", "source"],
        ["8ZC-HQF", "Quellorne Tarlowby Hybrid", "seat", "0.29 kV" if corrected else "290 Wh", "QLN-118/3:13"],
    ]
    low = [
        ["code", "vehicle", "low-voltage source id", "voltage", "source"],
        ["JNB-ZJC", "Quellorne Tarlowby 22D", "main", "NOT STATED" if corrected else "-", "QLN-118/3:13"],
    ]
    if corrected:
        ways.pop()
        low.pop()
    heading = ["number", "issue", "kind of source", "title", "publisher", "issued", "retrieved", "pages"]
    made = {
        "sources": [heading, list(_SOURCE)],
        "identity": identity,
        "cutoff methods": ways,
        "ports": ports,
        "energy packs": packs,
        "energy low voltage": low,
    }
    return {name: rows for name, rows in made.items() if len(rows) > 1}


def write(path: Path, content: Mapping[str, Rows]) -> None:
    """A workbook of text cells."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    book.properties.creator = "Quellorne Technical Press (invented)"
    book.properties.created = book.properties.modified = _MADE
    for name, rows in content.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
        for column in "ABCDEFGH":
            sheet.column_dimensions[column].width = 24
        sheet.freeze_panes = "A2"
    book.save(path)


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.update_workbook", description=__doc__)
    parser.add_argument("--write", action="store_true", required=True)
    parser.parse_args(argv)
    FOLDER.mkdir(exist_ok=True)
    write(FOLDER / CAME, sheets(corrected=False))
    write(FOLDER / CORRECTED, sheets(corrected=True))
    return 0


if __name__ == "__main__":
    sys.exit(main())
