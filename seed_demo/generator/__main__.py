"""Write an invented catalogue: `python -m seed_demo.generator --records N --seed S --output FILE`.

FILE gets one {"code", "document"} a line; the sources the records cite go to FILE with
".sources" before its ending, one {"key", "document"} a line.
"""

import argparse
import gc
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from seed_demo.generator import Family, families
from seed_demo.generator.guide import PLATFORM_TOPICS

Encoded = dict[int, tuple[Any, str]]  # id -> (the section, so that its id stays its own, and its text)
_MOST = 20_000
_encode = json.JSONEncoder(separators=(",", ":"), check_circular=False).encode


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m seed_demo.generator", description=__doc__)
    parser.add_argument("--records", type=int, required=True, help="how many")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--output", type=Path, required=True)
    options = parser.parse_args(argv)
    cited = options.output.with_name(f"{options.output.stem}.sources{options.output.suffix}")
    gc.disable()  # documents hold no circles, and looking for some takes a third of the time
    try:
        written = _write(families(options.records, options.seed), options.output, cited)
    finally:
        gc.enable()
    sys.stdout.write(f"{written[0]} records in {options.output}, {written[1]} sources in {cited}\n")
    return 0


def _write(made: Iterable[Family], output: Path, cited: Path) -> tuple[int, int]:
    """How many records and sources were written."""
    count = cited_count = 0
    platforms: Encoded = {}
    with output.open("w", encoding="utf-8") as records, cited.open("w", encoding="utf-8") as sources:
        for family in made:
            records.writelines(_lines(family, platforms))
            sources.writelines(f"{_encode({'key': key, 'document': source})}\n" for key, source in family.sources)
            count += len(family.records)
            cited_count += len(family.sources)
    return count, cited_count


def _lines(family: Family, platforms: Encoded) -> Iterator[str]:
    """A line per record. Sections that records share are encoded once: those of platforms for all families."""
    done: Encoded = {}
    for code, document in family.records:
        parts = []
        for key, section in document.items():
            known = platforms if key in PLATFORM_TOPICS else done
            if id(section) not in known:
                known[id(section)] = section, _encode(section)
            parts.append(f'"{key}":{known[id(section)][1]}')
        yield f'{{"code":"{code}","document":{{{",".join(parts)}}}}}\n'
    if len(platforms) > _MOST:
        platforms.clear()


if __name__ == "__main__":
    raise SystemExit(main())
