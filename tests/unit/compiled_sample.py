"""A tiny invented edition for the tests of the compiled edition."""

import json
from pathlib import Path
from typing import Any

import numpy as np

from catalog.compiled import EditionInput, RecordInput, build
from catalog.resolve.tables import Tables
from catalog.search.port import TextDocument

CODES = ("B3D-FGH", "QK7-M2T", "ZZZ-ZZQ")
FIRST = 1_700_000_000_123_456


def sample(number: int = 1, **changed: Any) -> EditionInput:
    """Edition `number`; its records say which edition they are of."""
    content = {
        "number": number,
        "hash": f"{number:064x}"[::-1],
        "published_at_us": FIRST + number,
        "author": "A. Steward",
        "reason": "a cut point moved – checked",
        "records": [
            RecordInput(code, f"{number:x}{place}" * 16, number, f'{{"code":"{code}","n":{number},"é":"ü"}}'.encode())
            for place, code in enumerate(reversed(CODES))
        ],
        "sources": [("ZZT-12/3", b'{"k":2}'), ("ZZT-11/1", b"")],
        "rows": [(code, f'["{code}",{number}]'.encode()) for code in CODES],
        "tables": tables(number),
        "texts": [
            TextDocument("record", code, f"Ostrel {code}", None, f"Cut loop, edition{number}.") for code in CODES
        ],
    }
    return EditionInput(**{**content, **changed})


def put(root: Path, number: int = 1, **changed: Any) -> Path:
    """Compile `sample(number, **changed)` under `root`."""
    return build(root, lambda _: sample(number, **changed))


def tables(number: int = 1) -> Tables:
    """Arrays of several types, one of them empty."""
    arrays = {
        "prior": np.array([0.5, 0.25, 0.25]),
        "sig_body": np.array([0, number, 2], dtype=np.uint16),
        "name_ids": np.zeros(0, dtype=np.int32),
        "matrix": np.arange(6, dtype=np.int64).reshape(2, 3),
    }
    return Tables(arrays, {"codes": list(CODES), "names": [["ostrel", "Östrel", "make"]], "newest_year": 2020 + number})


def name_of(edition: EditionInput) -> str:
    return f"{edition.number}-{edition.hash[:12]}"


def plain(value: object) -> object:
    """As JSON gives it back."""
    return json.loads(json.dumps(value))
