"""Short sayings with what they mean, one file a subject; each was written before the reader was tried on it."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.unit.reading_cases import reading

FOLDER = Path(__file__).parent / "reading_drills"


def drills() -> Iterator[Any]:
    for path in sorted(FOLDER.glob("*.jsonl")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            yield pytest.param(json.loads(line), id=f"{path.stem}:{number}")


@pytest.mark.parametrize("drill", [*drills()])
def test_a_saying_means_what_was_meant(drill: dict[str, Any]) -> None:
    heard = reading(drill["text"], drill.get("driving_side", "left"))
    for vehicle, key in (("A", "cues"), ("B", "other")):
        meant = sorted((about, sorted(values), denied) for about, values, denied in drill.get(key, []))
        found = sorted((cue.attribute, sorted(cue.values), cue.denied) for cue in heard.cues if cue.vehicle == vehicle)
        assert found == meant, drill["text"]
    masked = [drill["text"][span.start : span.end] for span in heard.masked]
    assert masked == drill.get("masked", [])
