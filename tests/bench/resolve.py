"""Description to answer: `python -m tests.bench.resolve [--records N] [--json FILE]`.

By stage, beside SQLite FTS5 and rapidfuzz on the same raw words in the same run, as ratios of
medians. The records are the demo's, their facts shuffled across each other (fixed seed), so the
signatures are as various as a small real catalogue's; a generator of whole invented catalogues
is to come. Timed are the engine and its baselines, not HTTP.
"""

import argparse
import json
import random
import sqlite3
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
from rapidfuzz import fuzz, process

import seed_demo
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.resolve.evidence import gather
from catalog.resolve.field import Field
from catalog.resolve.names import lexicon_of
from catalog.resolve.parameters import expert
from catalog.resolve.posterior import posterior
from catalog.resolve.reading import read
from catalog.resolve.tables import Entry, build_tables
from catalog.services.notes import record_text
from tests.eval.gates import Gate, report

TEXTS = Path(__file__).parents[1] / "eval" / "sets" / "resolve.jsonl"
ROUNDS = 3


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.resolve", description=__doc__)
    parser.add_argument("--records", type=int, default=1000)
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    records = _records(options.records)
    field = Field(build_tables([Entry(f"C{n:06}", record) for n, record in enumerate(records)]), expert(), 0.12)
    lexicon = lexicon_of(field.tables).lexicon
    texts = [json.loads(line)["text"] for line in TEXTS.read_text(encoding="utf-8").splitlines()]
    readings = [read(text, lexicon, "left") for text in texts]
    evidences = [gather(reading.cues, field.tables, field.parameters) for reading in readings]
    notes = [record_text(record) for record in records]
    match = _fts5(notes)
    stages = {
        "reading": _times(lambda n: read(texts[n], lexicon, "left"), len(texts)),
        "evidence": _times(lambda n: gather(readings[n].cues, field.tables, field.parameters), len(texts)),
        "posterior, first ten": _times(lambda n: posterior(evidences[n], field).order()[:10], len(texts)),
        "SQLite FTS5, first ten": _times(lambda n: match(texts[n]), len(texts)),
        "rapidfuzz token set": _times(
            lambda n: process.extract(texts[n], notes, scorer=fuzz.token_set_ratio, limit=10), 20
        ),
    }
    ours = np.sum([stages[name] for name in ("reading", "evidence", "posterior, first ten")], axis=0)
    print(f"{options.records} records, {len(texts)} descriptions, {ROUNDS} rounds; milliseconds\n")
    print(f"{'':26}{'median':>9}{'p95':>9}")
    for name, seconds in [*stages.items(), ("ours, all three", ours)]:
        print(f"{name:26}{np.median(seconds) * 1e3:9.2f}{np.percentile(seconds, 95) * 1e3:9.2f}")
    print()
    fts = float(np.median(stages["SQLite FTS5, first ten"]) / np.median(ours))
    rapid = float(np.median(stages["rapidfuzz token set"]) / np.median(ours))
    return report(
        "bench.resolve",
        [Gate("rapidfuzz / ours, medians", rapid, 1.0), Gate("FTS5 / ours, medians", fts, 1.0)],
        options.json,
    )


def _records(count: int) -> list[Record]:
    """The demo's newest records with each section's facts drawn from another record of the demo."""
    documents = {code: document for edition in seed_demo.load().editions for code, document in edition.records.items()}
    base = [record_from_document(document) for document in documents.values()]
    draw = random.Random(20261125)
    return [_mixed(n, base, draw) for n in range(count)]


def _mixed(number: int, base: Sequence[Record], draw: random.Random) -> Record:
    identity, looks, rest = (draw.choice(base) for _ in range(3))
    facts = {path: fact for path, fact in looks.facts.items() if path.startswith("looks.")}
    facts |= {path: fact for path, fact in rest.facts.items() if not path.startswith("looks.")}
    items = {path: ids for path, ids in rest.items.items() if not path.startswith("looks.")}
    items |= {path: ids for path, ids in looks.items.items() if path.startswith("looks.")}
    named = replace(identity.identity, model=f"{identity.identity.model} {number % 97}")
    return replace(rest, identity=named, facts=facts, items=items)


def _fts5(notes: Sequence[str]) -> Callable[[str], list[tuple[int]]]:
    connection = sqlite3.connect(":memory:")
    connection.execute("CREATE VIRTUAL TABLE notes USING fts5(text)")
    connection.executemany("INSERT INTO notes (text) VALUES (?)", [(note,) for note in notes])

    def match(text: str) -> list[tuple[int]]:
        words = "".join(char if char.isalnum() else " " for char in text).split()
        query = " OR ".join(f'"{word}"' for word in words)
        statement = "SELECT rowid FROM notes WHERE notes MATCH ? ORDER BY bm25(notes) LIMIT 10"
        return connection.execute(statement, (query,)).fetchall()

    return match


def _times(work: Callable[[int], object], count: int) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    """Best of the rounds for each description, in seconds."""
    best = np.full(count, np.inf)
    for _ in range(ROUNDS):
        for number in range(count):
            began = time.perf_counter()
            work(number)
            best[number] = min(best[number], time.perf_counter() - began)
    return best


if __name__ == "__main__":
    raise SystemExit(main())
