"""A full answer at size: `python -m tests.bench.questions [--sizes 1000,10000] [--json FILE]`.

Descriptions never heard before, of generated records (see `tests.bench.resolve`), to everything an
answer may hold: candidates, why, facts, groups, three questions. By stage, in processor time, the
best of the rounds; questions also as a ratio to the weighing they rest on, facts beside the plain way
to the same values (`plain_facts`).
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the product runs; and a thread's time is all there is

import argparse
import itertools
import time
from collections.abc import Sequence
from functools import reduce
from operator import add
from pathlib import Path

from catalog.resolve.answering.groups import groups_of
from catalog.resolve.evidence import gather
from catalog.resolve.explain import bars, why
from catalog.resolve.field import Field
from catalog.resolve.lexicon import Lexicon
from catalog.resolve.names import lexicon_of
from catalog.resolve.posterior import posterior
from catalog.resolve.questions.choosing import Asking, next_questions
from catalog.resolve.questions.safety import Caller, Scene
from catalog.resolve.reading.reader import read
from catalog.services.facts import shared_facts
from tests.bench.ground import prepared
from tests.bench.plain_facts import plain_facts
from tests.bench.stages import forget
from tests.bench.timing import Times, timed
from tests.eval.gates import Gate, report

OTHERS, DESCRIPTIONS, ROUNDS, AIMED = 150, 200, 3, 10_000
FACTS = "facts in words"
STAGES = ("reading", "weighing, first ten", "why, in full", FACTS, "groups in words", "three questions")
PLAIN = 30  # descriptions asked of the plain way
_CALLERS = tuple(Caller)


def answer(text: str, caller: Caller, field: Field, lexicon: Lexicon) -> list[float]:
    """The seconds of each stage."""
    marks = [time.thread_time()]
    reading = read(text, lexicon, "left")
    marks.append(time.thread_time())
    result = posterior(gather(reading.cues, field.tables, field.parameters), field)
    shown = result.order(10).tolist()
    marks.append(time.thread_time())
    for place in shown:
        why(place, result, field)
        bars(place, result, field)
    marks.append(time.thread_time())
    told = shared_facts(result, field)
    assert all(value.chance for fact in told for value in fact.values)  # put in words where they are shown
    marks.append(time.thread_time())
    groups_of(result, field)
    marks.append(time.thread_time())
    next_questions(result, reading.cues, field, Asking(Scene(caller)))
    marks.append(time.thread_time())
    return [late - early for early, late in itertools.pairwise(marks)]


def measure(count: int) -> list[Gate]:
    ground = prepared(count, OTHERS, DESCRIPTIONS)
    field, lexicon = ground.field, lexicon_of(ground.field.tables)
    best = [[float("inf")] * len(STAGES) for _ in ground.texts]
    for _ in range(ROUNDS):
        forget(lexicon)
        for text in ground.others:
            answer(text, Caller.UNKNOWN, field, lexicon)
        for place, text in enumerate(ground.texts):
            spent = answer(text, _CALLERS[place % len(_CALLERS)], field, lexicon)
            best[place] = [min(pair) for pair in zip(best[place], spent, strict=True)]
    staged = {name: Times([row[n] for row in best]) for n, name in enumerate(STAGES)}
    whole = reduce(add, staged.values())
    print(f"\n{count} records, {len(best)} descriptions never heard before, best of {ROUNDS} rounds; ms")
    print(f"{'':24}{'median':>9}{'p95':>9}")
    for name, times in {**staged, "everything": whole}.items():
        print(f"{name:24}{times.median * 1e3:9.3f}{times.p95 * 1e3:9.3f}")
    ratio = staged[STAGES[-1]].median / staged[STAGES[1]].median
    print(f"three questions take {ratio:.1f} times the weighing (medians); load {os.getloadavg()[0]:.1f}")
    read_ = (read(text, lexicon, "left") for text in ground.texts[:PLAIN])
    some = [posterior(gather(reading.cues, field.tables, field.parameters), field) for reading in read_]
    plain = timed(lambda result: plain_facts(result, field.tables), some, ROUNDS)
    slower = plain.median / Times(staged[FACTS].seconds[:PLAIN]).median
    print(f"facts the plain way take {slower:.1f} times ours (medians of {PLAIN} of the descriptions)")
    gates = [Gate(f"facts the plain way / ours at {count}, medians", slower, 1.0)]
    if count == AIMED:
        gates.append(Gate(f"everything at {count}, p95 ms", whole.p95 * 1e3, 8.0, most=True))
    return gates


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.questions", description=__doc__)
    parser.add_argument("--sizes", default="1000,10000", help="numbers of records (1000,10000)")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    gates = [gate for count in map(int, options.sizes.split(",")) for gate in measure(count)]
    return report("bench.questions", gates, options.json)


if __name__ == "__main__":
    raise SystemExit(main())
