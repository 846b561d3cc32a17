"""Write an invented catalogue: `python -m seed_demo.generator --records N --seed S --output FILE`.

FILE gets one {"code", "document"} a line; the sources the records cite go to FILE with
".sources" before its ending, one {"key", "document"} a line. Processes share the work; how many
does not change a byte.
"""

import argparse
import gc
import json
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from seed_demo.generator import Family, families
from seed_demo.generator.guide import PLATFORM_TOPICS

Encoded = dict[int, tuple[Any, str]]  # id -> (the section, so that its id stays its own, and its text)
_MOST = 20_000
# Each part draws the outlines of all before it, an eighth of the work: so much shorter is each next one.
_LATER = 0.89
_BUFFER = 1 << 20  # lines are longer than the usual buffer
_encode = json.JSONEncoder(separators=(",", ":"), check_circular=False).encode


@dataclass(frozen=True, slots=True)
class Part:
    """What one process writes, and where."""

    count: int
    seed: int
    share: range
    records: Path
    sources: Path


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m seed_demo.generator", description=__doc__)
    parser.add_argument("--records", type=int, required=True, help="how many")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--output", type=Path, required=True)
    parser.add_argument("--jobs", type=int, default=min(8, os.cpu_count() or 1), help="processes that share the work")
    options = parser.parse_args(argv)
    parts = _parts(options.records, options.seed, options.output, max(1, options.jobs))
    with ProcessPoolExecutor(len(parts)) as pool:
        written = list(pool.map(write, parts))
    for part in parts[1:]:
        _append(part.records, parts[0].records)
        _append(part.sources, parts[0].sources)
    records, sources = (sum(counts) for counts in zip(*written, strict=True))
    sys.stdout.write(f"{records} records in {parts[0].records}, {sources} sources in {parts[0].sources}\n")
    return 0


def _parts(count: int, seed: int, output: Path, jobs: int) -> list[Part]:
    """Shares that take as long each; the first is written where all of it is to go."""
    done = [1 - _LATER**job for job in range(jobs + 1)]
    edges = [round(count * share / done[-1]) for share in done]
    made = []
    for job in range(jobs):
        records = output if job == 0 else output.with_name(f"{output.name}.part{job}")
        sources = records.with_name(records.name.replace(output.name, f"{output.stem}.sources{output.suffix}"))
        made.append(Part(count, seed, range(edges[job], edges[job + 1]), records, sources))
    return made


def write(part: Part) -> tuple[int, int]:
    """Write a part; how many records and sources there were."""
    gc.disable()  # documents hold no circles, and looking for some takes a third of the time
    count = cited = 0
    platforms: Encoded = {}
    try:
        with part.records.open("wb", _BUFFER) as records, part.sources.open("wb", _BUFFER) as sources:
            for family in families(part.count, part.seed, part.share):
                records.writelines(_lines(family, platforms))
                sources.writelines(
                    f"{_encode({'key': key, 'document': made})}\n".encode("ascii") for key, made in family.sources
                )
                count += len(family.records)
                cited += len(family.sources)
    finally:
        gc.enable()
    return count, cited


def _append(part: Path, whole: Path) -> None:
    """Put a part at the end of the whole, and remove it."""
    with part.open("rb") as more, whole.open("ab") as file:
        shutil.copyfileobj(more, file, 1 << 20)
    part.unlink()


def _lines(family: Family, platforms: Encoded) -> Iterator[bytes]:
    """A line per record. Sections that records share are encoded once: those of platforms for all families."""
    done: Encoded = {}
    for code, document in family.records:
        parts = []
        for key, section in document.items():
            known = platforms if key in PLATFORM_TOPICS else done
            if id(section) not in known:
                known[id(section)] = section, _encode(section)
            parts.append(f'"{key}":{known[id(section)][1]}')
        yield f'{{"code":"{code}","document":{{{",".join(parts)}}}}}\n'.encode("ascii")
    if len(platforms) > _MOST:
        platforms.clear()


if __name__ == "__main__":
    raise SystemExit(main())
