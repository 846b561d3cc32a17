"""From the click on "doubt" to an answer with it: `python -m tests.bench.doubt [--sizes 1000,10000] [--json FILE]`.

Generated records (seed fixed) in a temporary SQLite data folder; three processes serve it as workers do: each follows
the store and is asked for the record every 20 ms. Then one of them doubts a fact, as a click does it. Printed is
the wall-clock time from the call until the last process has said "not stated" and has answered a description with that
edition; the processor time of the one that was clicked in; and the load of the machine, since both depend on it. Three
doubts one after the other, the slowest counts.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import multiprocessing
import tempfile
import threading
import time
from collections.abc import Sequence
from multiprocessing.connection import Connection
from pathlib import Path

from catalog.config import Settings
from catalog.domain.roles import Role
from catalog.services.acting import actor_of
from catalog.services.compiling import compile_latest
from catalog.services.doubting import doubt
from catalog.services.following import follow
from catalog.services.house import House, open_house
from catalog.services.records import read_record
from catalog.services.resolving import Description, resolve_description
from catalog.store.engine import write
from catalog.store.migrate import upgrade
from catalog.store.publish import Publication, publish
from seed_demo.generator import generate, sources
from tests.eval.gates import Gate, report

SEED, GOAL, WORKERS, DOUBTS = 20261125, 5.0, 3, 3
ASKED = "white pickup, port left rear"


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.doubt", description=__doc__)
    parser.add_argument("--sizes", default="1000,10000")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    gates = []
    for size in map(int, options.sizes.split(",")):
        with tempfile.TemporaryDirectory() as folder:
            gates.append(measure(Path(folder), size))
    return report("bench.doubt", gates, options.json)


def measure(folder: Path, count: int) -> Gate:
    prepare(folder, count)
    context = multiprocessing.get_context("spawn")
    pairs = [context.Pipe() for _ in range(WORKERS)]
    workers = [context.Process(target=serve, args=(folder, theirs), daemon=True) for _, theirs in pairs]
    for worker in workers:
        worker.start()
    ours = [mine for mine, _ in pairs]
    for one in ours:
        one.recv()
    slowest = 0.0
    for turn in range(DOUBTS):
        load = os.getloadavg()[0]
        for one in ours:
            one.send(turn)
        code, path = ours[0].recv()
        for one in ours[1:]:
            one.recv()
        clicked = time.monotonic()
        ours[0].send("doubt")
        spent = [one.recv() for one in ours]
        took = max(at for at, _ in spent) - clicked
        slowest = max(slowest, took)
        print(
            f"{count} records, {code} {path}: {took:.2f} s until the last of {WORKERS} processes, processor "
            f"{spent[0][1]:.2f} s in the one clicked in (load {load:.1f} on {os.cpu_count()})",
            flush=True,
        )
    for one in ours:
        one.send(None)
    for worker in workers:
        worker.join(30)
    return Gate(f"click to answer at {count} records, seconds", slowest, GOAL, most=True)


def prepare(folder: Path, count: int) -> None:
    house = opened(folder)
    upgrade(house.engine)
    with write(house.engine) as conn:
        publish(
            conn,
            Publication("A. Steward", "All.", dict(generate(count, SEED)), sources=dict(sources(count, SEED))),
            1_767_600_000_000_000,
        )
    compile_latest(house)
    house.engine.dispose()


def opened(folder: Path) -> House:
    return open_house(Settings(folder, f"sqlite:///{folder / 'chockbook.db'}"))


def serve(folder: Path, pipe: Connection) -> None:
    """One worker: follows, is asked all the time, and doubts when it is told to."""
    house = opened(folder)
    resolve_description(house, Description(ASKED))
    follow(house, threading.Event())
    pipe.send("ready")
    while (turn := pipe.recv()) is not None:
        codes = house.shelf.current().codes
        code = codes[(turn + 1) * len(codes) // (DOUBTS + 1)]
        path = next(path for path in read_record(house, code).record.facts if path.endswith(".place"))
        pipe.send((code, path))
        processor = time.process_time()
        clicked = pipe.poll(0.0) and pipe.recv()
        while path in read_record(house, code).record.facts:
            if not clicked and pipe.poll(0.0):
                clicked = pipe.recv()
            if clicked == "doubt":
                doubt(house, actor_of("a.steward", Role.STEWARD, "test"), code, path, "Found elsewhere.")
                clicked = "done"
            time.sleep(0.02)
        resolve_description(house, Description(ASKED))
        pipe.send((time.monotonic(), time.process_time() - processor))


if __name__ == "__main__":
    raise SystemExit(main())
