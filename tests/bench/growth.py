"""How much a process grows by opening tables: `python -m tests.bench.growth FOLDER < DESCRIPTIONS`.

Run in a process of its own by the benches, for nothing else to count. FOLDER holds what
`write_tables` wrote; a description a line. Prints JSON: bytes opened, first answer, all answers.
"""

import gc
import json
import resource
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from subprocess import run

from catalog.compiled.tables import open_tables, write_tables
from catalog.resolve.field import Field
from catalog.resolve.names import lexicon_of
from catalog.resolve.parameters import shipped
from catalog.resolve.reading.reader import read
from catalog.resolve.tables import Tables
from tests.bench.stages import answer

Growth = dict[str, int]


def growth(tables: Tables, texts: Sequence[str]) -> Growth:
    """Bytes by which a fresh process grows: by the tables and their names, and by answering the texts."""
    with tempfile.TemporaryDirectory() as folder:
        write_tables(Path(folder), tables)
        command = [sys.executable, "-m", "tests.bench.growth", folder]
        done = run(command, input="\n".join(texts), capture_output=True, text=True, check=True)
    made: Growth = json.loads(done.stdout)
    return made


def held() -> int:
    """Bytes of memory this process holds now."""
    gc.collect()
    return int(Path("/proc/self/statm").read_text().split()[1]) * resource.getpagesize()


def main(folder: Path, texts: Sequence[str]) -> None:
    parameters = shipped()
    read("load the tables of words", lexicon_of(Tables({}, {"names": []})), "left")
    before = held()
    field = Field(open_tables(folder), parameters, 0.12)
    lexicon = lexicon_of(field.tables)
    opened = held()
    for text in texts:
        answer(text, field, lexicon)
    json.dump({"opened": opened - before, "answering": held() - opened}, sys.stdout)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.stdin.read().splitlines())
