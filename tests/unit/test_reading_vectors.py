"""tests/vectors/reading.json: the contract every implementation of the reader passes.

Offsets count code points; one text begins with emoji, others hold full-width and Cyrillic letters.
The expected cues were checked by hand when each text was added.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from catalog.domain.folding import fold_name
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.reading.reader import read

DOCUMENT = json.loads((Path(__file__).parents[1] / "vectors" / "reading.json").read_text(encoding="utf-8"))
LEXICON = Lexicon(Name(fold_name(shown), shown, kind) for shown, kind in DOCUMENT["names"])


@pytest.mark.parametrize("row", DOCUMENT["texts"], ids=lambda row: f"{row['text']} ({row['driving_side']})")
def test_vector(row: dict[str, Any]) -> None:
    found = read(row["text"], LEXICON, row["driving_side"])
    cues = [
        {
            "attribute": cue.attribute,
            "values": list(cue.values),
            "denied": cue.denied,
            "doubt": cue.doubt.value,
            "viewpoint": cue.viewpoint,
            "vehicle": cue.vehicle,
            "spans": [[span.start, span.end] for span in cue.spans],
        }
        for cue in found.cues
    ]
    assert cues == row["cues"]
    assert [[span.start, span.end] for span in found.unread] == row["unread"]
    assert [[span.start, span.end] for span in found.masked] == row["masked"]


def test_a_vector_begins_with_an_emoji() -> None:
    assert any(row["text"][0] > "\U00010000" and row["cues"] for row in DOCUMENT["texts"])
