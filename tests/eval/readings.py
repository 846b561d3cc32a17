"""How well raw text becomes cues, and what that does to the answer.

    python -m tests.eval.readings [--set FILE ...] [--mapping FILE] [--misses] [--json FILE]

Without --set every set of tests/eval/readings is scored. Its README.md says what the sets hold, how
sets from elsewhere are brought in (--mapping), and how each number is counted. With --set the gates
are those the files have data for; without, a gate that has no data is missed.
"""

import argparse
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

from catalog.resolve.field import Field
from catalog.resolve.lexicon import Lexicon, Name
from catalog.resolve.names import lexicon_of
from catalog.resolve.reading.reader import read
from catalog.services.house import field_of
from tests.eval import reading_effect, reading_tables
from tests.eval.demo import demo_house
from tests.eval.gates import Gate, report
from tests.eval.reading_keys import Key, expanded
from tests.eval.reading_score import Result, has_sides, measure
from tests.eval.reading_sets import PARTS, Line, read_set
from tests.eval.reading_terms import BadSet, Terms, read_terms

HERE = Path(__file__).parent / "readings"
TRAPS, SECOND = HERE / "traps.jsonl", HERE / "second.jsonl"
NAN = float("nan")


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.eval.readings", description=__doc__)
    parser.add_argument("--set", type=Path, nargs="+", metavar="FILE", help="JSON Lines to score instead of ours")
    parser.add_argument("--mapping", type=Path, help="foreign names of attributes and values, as JSON")
    parser.add_argument("--misses", action="store_true", help="list what was read otherwise (never of last)")
    parser.add_argument("--json", type=Path, help="write the gates here")
    options = parser.parse_args(argv)
    try:
        return _run(options)
    except BadSet as fault:
        print(fault)
        return 2


def _run(options: argparse.Namespace) -> int:
    terms = read_terms(options.mapping) if options.mapping else Terms()
    own = sorted(path for path in HERE.glob("*.jsonl") if path not in (TRAPS, SECOND))
    lines = _lines(options.set or own, terms)
    traps = _lines(() if options.set else [TRAPS], Terms())
    second = _lines([SECOND] if SECOND.exists() and not options.set else (), Terms())
    field = _demo_field() if any(line.names is None for line in (*lines, *traps)) else None
    read("a word nobody knows: qzx", Lexicon(), "left")  # loads the tables, which is not reading
    results, trapped = ([measure(line, _lexicon(line, field)) for line in several] for several in (lines, traps))
    reading_tables.cues(results)
    if options.misses:
        reading_tables.misses(results)
    print()
    reading_tables.traps(fired(trapped))
    reading_tables.sides_and_masks(results)
    if not options.set:
        reading_tables.agreement(lines, second)
    reading_tables.texts(results)
    if field is not None:
        _effect(results, field)
    measured = list(gates(results, trapped))
    if options.set:
        measured = [gate for gate in measured if not math.isnan(gate.value)]
    if not measured:
        print("nothing to score: no annotated cue, side or masked string")
        return 1
    print()
    return report("readings", measured, options.json)


def _demo_field() -> Field:
    with demo_house() as house:
        return field_of(house, house.shelf.current())


def _lines(paths: Iterable[Path], terms: Terms) -> list[Line]:
    """All lines of some files; says what the mapping left out. Raises BadSet with the faults of all files."""
    faults: list[str] = []
    lines: list[Line] = []
    ignored: Counter[str] = Counter()
    for path in paths:
        try:
            found, left_out = read_set(path, terms)
        except BadSet as fault:
            faults.append(str(fault))
            continue
        lines += found
        ignored += left_out
    if faults:
        raise BadSet("\n".join(faults))
    if ignored:
        print("left out by the mapping: " + ", ".join(f"{name} {count}" for name, count in sorted(ignored.items())))
    return lines


def _lexicon(line: Line, field: Field | None) -> Lexicon:
    """The names a line is read with; field: the demo catalogue, needed where the line brings none."""
    if line.names is not None:
        return _lexicon_of(line.names)
    assert field is not None
    return lexicon_of(field.tables)


@cache
def _lexicon_of(names: tuple[Name, ...]) -> Lexicon:
    return Lexicon(names)


def fired(trapped: Iterable[Result]) -> list[tuple[Result, frozenset[Key]]]:
    """The traps with what was read of them beyond what may be."""
    extra = [(result, result.found - expanded(result.line.said)) for result in trapped]
    return [(result, keys) for result, keys in extra if keys]


def _effect(results: Iterable[Result], field: Field) -> None:
    """By part, over the descriptions of the demo catalogue's vehicles."""
    meant = [result for result in results if result.line.code != "" and result.line.names is None]
    for name in PARTS:
        effects = [reading_effect.effect(result, field) for result in reading_tables.part(meant, name)]
        listed = sum(entry.listed for entry in effects)
        print(
            f"\nthe whole pipeline, {name}: {len(effects) or 'no'} descriptions with a code, {listed} in the catalogue"
        )
        if effects:
            print("\n".join(reading_effect.table(effects)))


def gates(results: Sequence[Result], trapped: Sequence[Result]) -> Iterable[Gate]:
    """Every gate, NaN where there is nothing to measure it on."""
    development, last, first = (reading_tables.part(results, part) for part in PARTS)
    yield Gate("f1_development", reading_tables.of(development).f1, 0.95)
    yield Gate("f1_last", reading_tables.of(last).f1, 0.92)
    yield Gate("f1_first", reading_tables.of(first, reading_tables.SUMS["ranking"]).f1, 0.9)
    sided = [len(result.flips) for result in results if has_sides(result)]
    yield Gate("side_flips", sum(sided) if sided else NAN, 0, most=True)
    yield Gate("traps", len(fired(trapped)) if trapped else NAN, 0, most=True)
    masked = [len(result.bare) for result in (*results, *trapped) if result.line.masked]
    yield Gate("masked", sum(masked) if masked else NAN, 0, most=True)


if __name__ == "__main__":
    raise SystemExit(main())
