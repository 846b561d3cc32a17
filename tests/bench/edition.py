"""An edition at size: `python -m tests.bench.edition [--records 10000] [--json FILE]`.

Generated records (seed fixed) are published into a temporary SQLite data folder, compiled, opened
and swapped; then one guide's change to one record goes through the services (`prepare_demo`: gate,
store, compile), until a running reader's shelf answers from it. The first edition is put into the
store without the gate, which is not measured here. Wall-clock and processor seconds; how many
bytes; how much a process grows. Baselines in the same run: copying the records' bytes, and hashing.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import copy
import hashlib
import tempfile
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from catalog.config import Settings
from catalog.services.calibrating import check_current
from catalog.services.compiling import compile_latest
from catalog.services.house import House, open_house
from catalog.services.resolving import Description, resolve_description
from catalog.services.seeding import prepare_demo
from catalog.store.engine import write
from catalog.store.migrate import upgrade
from catalog.store.publish import Publication, publish
from seed_demo import Demo, DemoEdition
from seed_demo.generator import generate, sources
from tests.bench.growth import growth
from tests.eval.gates import Gate, report

SEED, RECORDS = 20261125, 10_000
FIRST, SECOND = datetime(2026, 1, 5, tzinfo=UTC), datetime(2026, 2, 2, tzinfo=UTC)
ASKED = ("white pickup, port left rear", "small electric hatchback, charge flap front wing", "blue bus, plugs in")
Document = dict[str, Any]


@dataclass(slots=True)
class Clock:
    """Seconds by name: (wall, processor)."""

    spent: dict[str, tuple[float, float]] = field(default_factory=dict)

    @contextmanager
    def __call__(self, name: str) -> Iterator[None]:
        wall, processor = time.monotonic(), time.process_time()
        yield
        self.spent[name] = time.monotonic() - wall, time.process_time() - processor
        print(f"{name:46}{self.spent[name][0]:9.2f}{self.spent[name][1]:9.2f}", flush=True)


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.edition", description=__doc__)
    parser.add_argument("--records", type=int, default=RECORDS)
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    with tempfile.TemporaryDirectory() as folder:
        gates = measure(Path(folder), options.records)
    return report("bench.edition", gates, options.json)


def measure(folder: Path, count: int) -> list[Gate]:
    records, cited = dict(generate(count, SEED)), dict(sources(count, SEED))
    print(f"{count} records, {len(cited)} sources; seconds (load {os.getloadavg()[0]:.1f} on {os.cpu_count()})")
    print(f"{'':46}{'wall':>9}{'processor':>9}")
    clock = Clock()
    house = _opened(folder)
    first = DemoEdition(1, FIRST, "A. Steward", "Everything there is.", records, {}, {}, cited)
    upgrade(house.engine)
    with clock("into the store, all at once"), write(house.engine) as conn:
        publish(conn, Publication(first.author, first.reason, first.records, sources=first.sources), _us(FIRST))
    with clock("compile all of it"):
        compile_latest(house)
    with clock("open"):
        opened = house.shelf.current()
    with clock("first answer"):
        resolve_description(house, Description(ASKED[0]))
    reader = _opened(folder)
    reader.shelf.current()
    resolve_description(reader, Description(ASKED[1]))

    demo = Demo((first, _change(records)))
    changed = time.monotonic()
    with clock("publish one change, compile, check"):
        prepare_demo(house, demo, lambda _: None)
    with clock("until a running reader has it"):
        number = _until(reader, 2)
    print(f"one change, published to searchable: {time.monotonic() - changed:.2f} s; edition {number}")
    with clock("first answer after the swap"):
        resolve_description(reader, Description(ASKED[2]))

    # The calibration is checked once readers have the edition: what that takes is taken off again.
    house.calibrations.checks_of(house.shelf.current()).unlink()
    house.calibrations.forget()
    with clock("(the check of the calibration alone)"):
        check_current(house)
    spent = {name: processor for name, (_, processor) in clock.spent.items()}
    searchable = (
        spent["publish one change, compile, check"]
        + spent["until a running reader has it"]
        - spent["(the check of the calibration alone)"]
    )
    arrays = sum(array.nbytes for array in opened.tables.arrays.values())
    grown = growth(opened.tables, ASKED)
    per = 10_000 / count
    print(f"on disk: {_bytes(folder / 'compiled' / 'editions' / f'1-{opened.hash[:12]}')}")
    print(
        f"tables: arrays {arrays / 1e6:.2f} MB; a process grows by {grown['opened'] / 1e6:.1f} MB opening them "
        f"with their names, {grown['answering'] / 1e6:.1f} MB answering"
    )
    content = b"".join(opened.record_bytes(code) for code in opened.codes)
    with clock(f"(hash the records' {len(content) / 1e6:.0f} MB, for scale)"):
        hashlib.sha256(content).hexdigest()
    fixed = [Gate("tables in memory, MB per 10000 records", grown["opened"] / 1e6 * per, 15.0, most=True)]
    return [
        *(fixed if count >= RECORDS else []),  # in small ones it is mostly what any size takes
        Gate("compile all, processor seconds per 10000", clock.spent["compile all of it"][1] * per, 180.0, most=True),
        Gate("one change to searchable, processor seconds", searchable, 10.0, most=True),
    ]


def _opened(folder: Path) -> House:
    return open_house(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))


def _us(at: datetime) -> int:
    return round(at.timestamp() * 1_000_000)


def _change(records: Mapping[str, Document]) -> DemoEdition:
    """A second edition in which one record is built from another year on."""
    code = sorted(records)[len(records) // 2]
    document = copy.deepcopy(records[code])
    document["identity"]["years"]["from"] -= 1
    reason = "Built a year longer than the guide first said."
    return DemoEdition(2, SECOND, "B. Steward", reason, {code: document}, {code: reason}, {}, {})


def _until(reader: House, number: int) -> int:
    """Look as a server does until the shelf has the edition."""
    while reader.shelf.current().number < number:
        time.sleep(0.02)
    return reader.shelf.current().number


def _bytes(folder: Path) -> str:
    sizes = {
        part.name: sum(path.stat().st_size for path in [part, *part.rglob("*")] if path.is_file())
        for part in sorted(folder.iterdir())
    }
    return ", ".join(f"{name} {size / 1e6:.1f} MB" for name, size in sizes.items())


if __name__ == "__main__":
    raise SystemExit(main())
