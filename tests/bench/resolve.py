"""Description to answer at size: `python -m tests.bench.resolve [--records N ...] [--json FILE]`.

Records are generated (seed fixed), so are the descriptions (callers.py). By stage, in processor
time, beside the text library's own OR search, SQLite FTS5 and rapidfuzz on the same raw words in
the same run. Ratios are of medians over the same descriptions; what costs seconds a description is
asked for fewer of them. Timed are the engine and its baselines, not HTTP.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the product runs; and a thread's time is all there is

import argparse
import itertools
import json
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from catalog.domain.documents import record_from_document
from catalog.resolve.evidence import Evidence, gather
from catalog.resolve.field import Field
from catalog.resolve.names import lexicon_of
from catalog.resolve.parameters import expert
from catalog.resolve.posterior import posterior
from catalog.resolve.reading import read
from catalog.resolve.tables import Entry, build_tables
from catalog.services.notes import record_text
from seed_demo.generator import generate
from tests.bench.baselines import closest, fts5, text_library
from tests.bench.callers import Document, descriptions
from tests.bench.timing import Times, copy_bandwidth, peak_bytes, timed
from tests.eval.gates import Gate, report

SEED, DESCRIPTIONS, ROUNDS = 20261125, 400, 3
STAGES = ("reading", "evidence", "posterior", "first ten")
AIMED = 10_000  # the size the aims are set for


@dataclass(frozen=True, slots=True)
class Ground:
    """What is measured on. texts: the descriptions; the first few go to what is slow."""

    field: Field
    codes: Sequence[str]
    notes: Sequence[str]
    texts: Sequence[str]

    def some(self, seconds_each: float) -> Sequence[str]:
        """So many texts that a slow search over them takes about half a minute."""
        return self.texts[: max(5, min(len(self.texts), int(30 / ROUNDS / seconds_each)))]


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.resolve", description=__doc__)
    parser.add_argument("--records", type=int, action="append", help="how many; may be given again (1000, 10000)")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    gates = [gate for count in options.records or [1000, AIMED] for gate in measure(count)]
    return report("bench.resolve", gates, options.json)


def measure(count: int) -> Iterator[Gate]:
    ground = prepared(count)
    stages, found, fresh = staged(ground)
    candidates = stages["evidence"] + stages["posterior"] + stages["first ten"]
    whole = stages["reading"] + candidates
    print(
        f"\n{count} records, {len(ground.texts)} descriptions, best of {ROUNDS} rounds; milliseconds of processor time"
    )
    print(f"{'':34}{'median':>9}{'p95':>9}")
    for name, times in [
        *stages.items(),
        ("candidates: evidence to first ten", candidates),
        ("description to answer", whole),
    ]:
        print(f"{name:34}{times.median * 1e3:9.3f}{times.p95 * 1e3:9.3f}")
    print(f"{'(evidence, asked for the first time)':34}{fresh.median * 1e3:9.3f}{fresh.p95 * 1e3:9.3f}")
    ratios = dict(beside(ground, whole))
    size(ground, found, stages["posterior"])
    yield Gate(f"FTS5 / ours at {count}, medians", ratios["SQLite FTS5"], 8.0 if count >= AIMED else 1.0)
    yield Gate(f"text library / ours at {count}, medians", ratios["text library, OR"], 1.0)
    yield Gate(f"rapidfuzz / ours at {count}, medians", ratios["rapidfuzz token set"], 1.0)
    if count == AIMED:
        yield Gate("candidates at 10000, median ms", candidates.median * 1e3, 1.0, most=True)
        yield Gate("candidates at 10000, p95 ms", candidates.p95 * 1e3, 2.0, most=True)


def prepared(count: int) -> Ground:
    """Records are read one by one and let go; what is kept is what the engine and its baselines keep."""
    codes: list[str] = []
    notes: list[str] = []
    described: list[Document] = []

    def entries() -> Iterator[Entry]:
        every = max(1, count // (2 * DESCRIPTIONS))
        for number, (code, document) in enumerate(generate(count, SEED)):
            record = record_from_document(document)
            codes.append(code)
            notes.append(record_text(record))
            if number % every == 0:
                described.append(document)
            yield Entry(code, record)

    field = Field(build_tables(entries()), expert(), 0.12)
    return Ground(field, codes, notes, descriptions(described, DESCRIPTIONS, SEED))


def staged(ground: Ground) -> tuple[dict[str, Times], list[tuple[Evidence, ...]], Times]:
    """Each stage of each description in its turn, as in a request; best of the rounds per stage.

    Then the evidence, and its times in the first round, when little of what was said was heard before.
    """
    field, lexicon = ground.field, lexicon_of(ground.field.tables).lexicon
    best = [[float("inf")] * len(STAGES) for _ in ground.texts]
    kept: list[tuple[Evidence, ...]] = []
    fresh: list[float] = []
    read("load the tables of words", lexicon, "left")
    for round_ in range(ROUNDS):
        for place, text in enumerate(ground.texts):
            marks = [time.thread_time()]
            reading = read(text, lexicon, "left")
            marks.append(time.thread_time())
            found = gather(reading.cues, field.tables, field.parameters)
            marks.append(time.thread_time())
            result = posterior(found, field)
            marks.append(time.thread_time())
            result.order(10)
            marks.append(time.thread_time())
            spent = [late - early for early, late in itertools.pairwise(marks)]
            best[place] = [min(pair) for pair in zip(best[place], spent, strict=True)]
            if round_ == 0:
                kept.append(found)
                fresh.append(spent[1])
    return {name: Times([row[n] for row in best]) for n, name in enumerate(STAGES)}, kept, Times(fresh)


def beside(ground: Ground, ours: Times) -> Iterator[tuple[str, float]]:
    """(name, ratio of medians to ours) of each baseline, printed as they come."""
    for name, times in others(ground):
        same = Times(ours.seconds[: len(times.seconds)])
        ratio = times.median / same.median
        asked = f"({len(times.seconds)} of the descriptions)"
        print(f"{name:34}{times.median * 1e3:9.2f}{times.p95 * 1e3:9.2f}{ratio:9.1f} times ours {asked}")
        yield name, ratio


def others(ground: Ground) -> Iterator[tuple[str, Times]]:
    count = len(ground.notes)
    with text_library(ground.notes, ground.codes) as search:
        yield "text library, OR", timed(search, ground.some(count * 4e-6), ROUNDS)
    yield "SQLite FTS5", timed(fts5(ground.notes), ground.some(count * 1e-5), ROUNDS)
    yield "rapidfuzz token set", timed(closest(ground.notes), ground.some(count * 1.5e-4), ROUNDS)


def size(ground: Ground, found: Sequence[tuple[Evidence, ...]], weighing: Times) -> None:
    """Memory, and how near the weighing is to the time it takes to move its bytes at all."""
    field, count = ground.field, len(ground.notes)
    arrays = sum(array.nbytes for array in field.tables.arrays.values())
    meta = len(json.dumps(field.tables.meta, ensure_ascii=False))
    lexicon = lexicon_of(field.tables).lexicon

    def answer(text: str) -> object:
        cues = read(text, lexicon, "left").cues
        return posterior(gather(cues, field.tables, field.parameters), field).order(10)

    held = peak_bytes(answer, ground.texts[:40])
    print(f"tables: arrays {arrays / 1e6:.2f} MB, names and signatures {meta / 1e6:.2f} MB as JSON")
    print(f"one answer holds at most {held / 1e6:.2f} MB, {held / count:.0f} bytes a record")
    moved = [_bytes_moved(entries, count) for entries in found]
    work, large = copy_bandwidth(max(32 * count, 65536)), copy_bandwidth(256_000_000)
    limits = sorted(bytes_ / work for bytes_ in moved)
    middle = limits[len(limits) // 2]
    print(
        f"copying: {work / 1e9:.1f} GB/s at the size of the weights, {large / 1e9:.1f} GB/s from memory; "
        f"the median description moves {sorted(moved)[len(moved) // 2] / 1e6:.2f} MB: "
        f"{middle * 1e3:.3f} ms at the least, the posterior takes {weighing.median / middle:.1f} times that"
    )


def _bytes_moved(found: Sequence[Evidence], count: int) -> int:
    """Bytes a posterior must read and write: per cue over all records its index, the two gathered numbers
    written, and the product of two numbers (two reads, one write); at the end prior and records."""
    dense = [entry for entry in found if entry.few is None or 4 * len(entry.few) >= count]
    few = sum(len(entry.few) for entry in found if entry.few is not None and 4 * len(entry.few) < count)
    products = max(0, len(dense) - 1) * 48 * count
    return sum((entry.index.itemsize + 16) * count for entry in dense) + products + few * 56 + 64 * count


if __name__ == "__main__":
    raise SystemExit(main())
