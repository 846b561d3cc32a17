"""Guide updates at size: `python -m tests.bench.imports [--records 10000] [--json FILE]`.

Generated records (seed fixed) are published into a temporary SQLite data folder. Then the whole catalogue is brought
back as a workbook and as JSON Lines, one record in a hundred of it changed, and held against what is listed; and
once into an empty one, where all is new and goes through the gate. Each check runs in a process of its own, whose
peak memory is printed, with that of the reading process it starts. Baseline in the same run: reading the file and
nothing more. Wall-clock and processor seconds of both processes together; the goals are of wall-clock.
"""

import argparse
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from catalog.config import Settings
from catalog.intake.book import write_workbook
from catalog.intake.files import read_file
from catalog.intake.rows import rows_of, source_rows
from catalog.services.house import open_house
from catalog.services.importing import BroughtFile, check_update
from catalog.store.engine import write
from catalog.store.migrate import upgrade
from catalog.store.publish import Publication, publish
from seed_demo.generator import generate, sources
from tests.eval.gates import Gate, report

SEED, RECORDS = 20261126, 10_000
GOALS = {"update.xlsx": 120.0, "update.jsonl": 45.0}
_MB = 1024**2
Document = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Spent:
    """Seconds, and peak bytes of the process and of the reading process it started; what came of it."""

    wall: float
    processor: float
    peak: float
    reader: float
    counts: dict[str, int]


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.imports", description=__doc__)
    parser.add_argument("--records", type=int, default=RECORDS)
    parser.add_argument("--json", type=Path)
    parser.add_argument("--measure", nargs=3, metavar=("WHAT", "FILE", "DATA"), help=argparse.SUPPRESS)
    options = parser.parse_args(argv)
    if options.measure:
        what, file, data = options.measure
        print(json.dumps(_measured(what, Path(file), Path(data))))
        return 0
    with tempfile.TemporaryDirectory() as folder:
        return report("bench.imports", compare(Path(folder), options.records), options.json)


def compare(folder: Path, count: int) -> list[Gate]:
    """Make the catalogues and the files, then time them."""
    print(f"{count} records; load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
    listed, empty = folder / "listed", folder / "empty"
    _published(listed, count)
    _published(empty, 0)
    _write_lines(folder / "update.jsonl", count)
    with (folder / "update.xlsx").open("wb") as sink:
        write_workbook(_rows(count), sink)
    print(f"{'':44}{'wall':>8}{'processor':>10}{'times':>7}{'peak MB':>9}{'reader':>8}")
    gates = []
    for name, goal in GOALS.items():
        file = folder / name
        plain = _row(f"{name} ({file.stat().st_size / _MB:.0f} MB), read only", _asked("read", file, listed))
        spent = _row(f"{name}, one in a hundred changed", _asked("check", file, listed), plain)
        assert spent.counts["changed"] == -(-count // 100), spent.counts
        assert spent.counts["unchanged"] == count - spent.counts["changed"], spent.counts
        new = _row(f"{name}, all of it new", _asked("check", file, empty), plain)
        assert new.counts["added"] == count, new.counts
        gates.append(Gate(f"{name}: seconds for {count} records, 99 in 100 as listed", spent.wall, goal, most=True))
        gates.append(Gate(f"{name}: seconds for {count} records, all new", new.wall, goal, most=True))
    return gates


def _row(name: str, spent: Spent, plain: Spent | None = None) -> Spent:
    times = f"{spent.processor / plain.processor:7.1f}" if plain else f"{'':7}"
    memory = f"{spent.peak / _MB:9.0f}{spent.reader / _MB:8.0f}"
    print(f"{name:44}{spent.wall:8.1f}{spent.processor:10.1f}{times}{memory}", flush=True)
    return spent


def _published(data: Path, count: int) -> None:
    house = open_house(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    data.mkdir()
    upgrade(house.engine)
    if count:
        with write(house.engine) as conn:
            cited = dict(sources(count, SEED))
            publish(conn, Publication("A. Steward", "All.", dict(generate(count, SEED)), sources=cited), 1_000_000)
    house.engine.dispose()


def _changed(count: int) -> Iterator[tuple[str, Document]]:
    """The records, every hundredth with another name on top of its own."""
    for number, (code, document) in enumerate(generate(count, SEED)):
        if number % 100 == 0:
            who = document["identity"]
            names = [*who.get("names", ()), "Wexmore"]
            yield code, {**document, "identity": {**who, "names": names}}
        else:
            yield code, document


def _rows(count: int) -> Iterator[Any]:
    for _, source in sources(count, SEED):
        yield from source_rows(source)
    for code, document in _changed(count):
        yield from rows_of(code, document)


def _write_lines(path: Path, count: int) -> None:
    with path.open("w", encoding="utf-8") as sink:
        for kind, documents in (("source", sources(count, SEED)), ("record", _changed(count))):
            for key, document in documents:
                line = {"kind": kind, "key": key, "document": document}
                sink.write(json.dumps(line, ensure_ascii=False) + "\n")


def _asked(what: str, file: Path, data: Path) -> Spent:
    command = [sys.executable, "-m", "tests.bench.imports", "--measure", what, str(file), str(data)]
    ran = subprocess.run(command, check=True, capture_output=True, text=True)
    return Spent(**json.loads(ran.stdout))


def _measured(what: str, file: Path, data: Path) -> Document:
    house = open_house(Settings.from_environment({"CHOCKBOOK_DATA": str(data)}))
    began = time.monotonic()
    counts: dict[str, int] = {}
    if what == "read":
        with file.open("rb") as opened:
            assert not read_file(opened, file.name).refused
    else:
        counts = dict(check_update(house, BroughtFile(file.name, file.read_bytes())).counts)
    wall = time.monotonic() - began
    own, reader = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    processor = own.ru_utime + own.ru_stime + reader.ru_utime + reader.ru_stime
    peaks = {"peak": own.ru_maxrss * 1024, "reader": reader.ru_maxrss * 1024}
    return {"wall": wall, "processor": processor, **peaks, "counts": counts}


if __name__ == "__main__":
    sys.exit(main())
