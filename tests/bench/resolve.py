"""Description to answer at size: `python -m tests.bench.resolve [--sizes 1000,10000] [--json FILE]`.

Records are generated (seed fixed), so are the descriptions (callers.py). By stage, in processor
time, beside the text library's own OR search, SQLite FTS5 and rapidfuzz on the same raw words in
the same run. What counts are descriptions never heard before, asked of a process that has answered
others; ratios are of medians over the same descriptions, and what costs seconds a description is
asked for fewer. The text library takes many minutes to index 100,000 records, so it is asked up to
`--library` records. Timed are the engine and its baselines, not HTTP.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the product runs; and a thread's time is all there is

import argparse
import json
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import add
from pathlib import Path

from catalog.resolve.names import lexicon_of
from catalog.resolve.posterior import posterior
from tests.bench.baselines import closest, fts5, text_library
from tests.bench.ground import Ground, prepared
from tests.bench.growth import growth
from tests.bench.limit import least_bytes
from tests.bench.stages import CANDIDATES, Staged, answer, cold, never_heard
from tests.bench.timing import Times, copy_bandwidth, peak_bytes, timed
from tests.eval.gates import Gate, report

SIZES = "1000,10000,100000"
OTHERS, DESCRIPTIONS, ROUNDS = 300, 400, 3
AIMED = 10_000  # the size the aims are set for
_SECONDS = 6  # for each slow search, about


@dataclass(frozen=True, slots=True)
class Grown:
    """What is compared between sizes: milliseconds, bytes."""

    count: int
    candidates: float
    whole: float
    least: float
    tables: int


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.resolve", description=__doc__)
    parser.add_argument("--sizes", default=SIZES, help=f"numbers of records ({SIZES})")
    parser.add_argument("--library", type=int, default=AIMED, help="most records the text library is asked for")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    gates: list[Gate] = []
    grown = []
    for count in map(int, options.sizes.split(",")):
        began = time.monotonic()
        grown.append(measure(count, options.library, gates))
        print(f"({time.monotonic() - began:.0f} s; load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors)")
    print(f"\n{'records':>9}{'candidates ms':>15}{'a record ns':>13}{'whole ms':>10}{'least ms':>10}{'tables MB':>11}")
    for row in grown:
        each = row.candidates / row.count * 1e6
        print(
            f"{row.count:9}{row.candidates:15.3f}{each:13.1f}{row.whole:10.3f}{row.least:10.3f}{row.tables / 1e6:11.2f}"
        )
    return report("bench.resolve", gates, options.json)


def measure(count: int, library: int, gates: list[Gate]) -> Grown:
    ground = prepared(count, OTHERS, DESCRIPTIONS)
    print(f"\n{count} records, {len(ground.texts)} descriptions never heard before, best of {ROUNDS} rounds; ms")
    new, again = never_heard(ground.field, ground.others, ground.texts, ROUNDS)
    first = cold(ground.field, ground.texts[:100], ROUNDS)
    print(f"{'':38}{'median':>9}{'p95':>9}")
    for name, times in new.items():
        _line(name, times)
    _line("candidates: evidence to first ten", candidates(new))
    _line("  as the first of all (100 of them)", candidates(first))
    _line("  said again", candidates(again))
    whole = reduce(add, new.values())
    _line("description to answer", whole)
    ratios = dict(beside(ground, whole, library))
    row = size(ground, candidates(new), whole)
    for name, ratio in ratios.items():
        aim = 8.0 if name == "SQLite FTS5" and count >= AIMED else 1.0
        gates.append(Gate(f"{name} / ours at {count}, medians", ratio, aim))
    if count == AIMED:
        gates.append(Gate(f"candidates at {count}, median ms", candidates(new).median * 1e3, 1.0, most=True))
        gates.append(Gate(f"candidates at {count}, p95 ms", candidates(new).p95 * 1e3, 2.0, most=True))
    return row


def candidates(staged: Staged) -> Times:
    return staged[CANDIDATES[0]] + staged[CANDIDATES[1]]


def _line(name: str, times: Times) -> None:
    print(f"{name:38}{times.median * 1e3:9.3f}{times.p95 * 1e3:9.3f}")


def beside(ground: Ground, ours: Times, library: int) -> Iterator[tuple[str, float]]:
    """(name, ratio of medians to ours) of each baseline, printed as they come."""
    for name, times in others(ground, library):
        same = Times(ours.seconds[: len(times.seconds)])
        ratio = times.median / same.median
        asked = f"({len(times.seconds)} of the descriptions)"
        print(f"{name:38}{times.median * 1e3:9.2f}{times.p95 * 1e3:9.2f}{ratio:9.1f} times ours {asked}")
        yield name, ratio


def others(ground: Ground, library: int) -> Iterator[tuple[str, Times]]:
    count = len(ground.notes)
    if count <= library:
        with text_library(ground.notes, ground.codes) as search:
            yield "text library, OR", timed(search, _some(ground, count * 2e-5), ROUNDS)
    yield "SQLite FTS5", timed(fts5(ground.notes), _some(ground, count * 2e-6), ROUNDS)
    yield "rapidfuzz token set", timed(closest(ground.notes), _some(ground, count * 5e-5), ROUNDS)


def _some(ground: Ground, seconds_each: float) -> Sequence[str]:
    """So many texts that a slow search over them takes as long as it may."""
    return ground.texts[: max(3, min(len(ground.texts), int(_SECONDS / ROUNDS / seconds_each)))]


def size(ground: Ground, weighing: Times, whole: Times) -> Grown:
    """Memory, and how near the weighing is to the time it takes to move its bytes at all."""
    field, count = ground.field, len(ground.notes)
    lexicon = lexicon_of(field.tables)
    arrays = sum(array.nbytes for array in field.tables.arrays.values())
    meta = len(json.dumps(field.tables.meta, ensure_ascii=False))
    grown = growth(field.tables, ground.texts[:100])
    found = [answer(text, field, lexicon)[1] for text in ground.texts]
    held = peak_bytes(lambda entries: posterior(entries, field).order(10), found[:40])
    print(f"tables: arrays {arrays / 1e6:.2f} MB, names and signatures {meta / 1e6:.2f} MB as JSON;")
    print(
        f"a process grows by {grown['opened'] / 1e6:.1f} MB opening them, {grown['answering'] / 1e6:.1f} MB answering;"
        f" one answer holds at most {held / 1e6:.2f} MB"
    )
    moved = sorted(least_bytes(entries, count) for entries in found)
    middle = moved[len(moved) // 2]
    near, far = copy_bandwidth(max(32 * count, 65536)), copy_bandwidth(256_000_000)
    least = middle / near
    print(
        f"limit: a plain copy moves {near / 1e9:.1f} GB/s at the size of the weights, {far / 1e9:.1f} GB/s from memory;"
        f" the median description moves {middle / 1e6:.2f} MB: {least * 1e3:.3f} ms at the least,"
        f" candidates take {weighing.median / least:.1f} times that"
    )
    return Grown(count, weighing.median * 1e3, whole.median * 1e3, least * 1e3, arrays + meta)


if __name__ == "__main__":
    raise SystemExit(main())
