"""Descriptions written by hand: JSON Lines, {"text", "code" or null, "driving_side"}."""

import json
from pathlib import Path

from catalog.resolve.names import lexicon_of
from catalog.resolve.reading.reader import read
from catalog.resolve.tables import Tables
from tests.eval.search_ground import Query

OWN = Path(__file__).parent / "sets" / "resolve.jsonl"


def written(path: Path, tables: Tables) -> list[Query]:
    """Those that say which vehicle it is, read. Exits where that one is not in the catalogue."""
    codes = {code: place for place, code in enumerate(tables.meta["codes"])}
    queries = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line.strip():
            continue
        row = json.loads(line)
        if row.get("code", "") == "":  # annotated without saying which vehicle it is
            continue
        if row["code"] is not None and row["code"] not in codes:
            raise SystemExit(f"{path}: {row['code']} is not in the demo catalogue's newest edition: {row['text']!r}")
        cues = read(row["text"], lexicon_of(tables), row.get("driving_side", "left")).own
        target = -1 if row["code"] is None else codes[row["code"]]
        queries.append(Query(row["text"], cues, target, row["code"] or row["text"]))
    return queries
