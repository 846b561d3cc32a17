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

from seed_demo.generator import Family, families

_encode = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), check_circular=False).encode


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
    with output.open("w", encoding="utf-8") as records, cited.open("w", encoding="utf-8") as sources:
        for family in made:
            records.writelines(_lines(family))
            sources.writelines(f"{_encode({'key': key, 'document': source})}\n" for key, source in family.sources)
            count += len(family.records)
            cited_count += len(family.sources)
    return count, cited_count


def _lines(family: Family) -> Iterator[str]:
    """A line per record; sections that the family shares are encoded once."""
    done: dict[int, str] = {}
    for code, document in family.records:
        for section in document.values():
            if id(section) not in done:
                done[id(section)] = _encode(section)
        inner = ",".join(f'"{key}":{done[id(section)]}' for key, section in document.items())
        yield f'{{"code":"{code}","document":{{{inner}}}}}\n'


if __name__ == "__main__":
    raise SystemExit(main())
