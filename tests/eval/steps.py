"""The invariants of the steps: `python -m tests.eval.steps [--generated N] [--small] [--json FILE]`.

Tried on the demo records and N generated ones, one for each different set of derived facts, and on no
record. For every rule: all values of the scene's fields it reads (of rules that read more than six every
pair, and each alone) with the other fields pairwise, on no record and on ROUNDS records in turn. For
every record: all fields of the scene pairwise, all unknown, all no. Whatever breaks an invariant is
counted; the gates allow none. Also: a part of each record's aids taken out one by one, and sets of possible vehicles.
"""

import argparse
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice
from pathlib import Path
from random import Random

from catalog.domain.record import Record
from catalog.plan.scene import Said, Scene
from catalog.plan.several import Field as PossibleVehicles
from catalog.plan.several import Possible, plan_for_several
from catalog.plan.table import shipped_table
from tests import plan_situations as situation
from tests.eval.gates import Gate, report
from tests.plan_cases import (
    ALL,
    CARRIED,
    covering,
    demo_records,
    fields_read,
    generated_records,
    scenes_of,
    told_apart,
)
from tests.plan_invariants import CHECKS, broken, silence_takes_nothing, unknown_takes_nothing, wrong_without_a_word

ROUNDS = 3
UNKNOWN_EVERY = 7  # of the plans, so many are made once more with each field that is read not known
THINNED = 12  # --small: one in so many

AIDS_EVERY = 8  # of a record's stated aids, so many are passed over for each that is taken out
SEVERAL = 400  # sets of possible vehicles
CLEAR = Scene().having(**situation.CLEAR)

Trial = tuple[Record | None, Scene, tuple[str, ...]]


def trials(records: Sequence[Record | None]) -> Iterator[Trial]:
    """(record, scene, fields whose not being known is tried). The first of the records is none."""
    turn = 0
    for rule in shipped_table().rules:
        read = tuple(dict.fromkeys(name for record in records[:8] for name in fields_read(rule, record)))
        for scene in scenes_of(read, turn):
            yield None, scene, read
            for _ in range(ROUNDS):
                turn += 1
                yield records[turn % len(records)], scene, read
    rows = (*covering(ALL, 1), dict.fromkeys(ALL, Said.UNKNOWN), dict.fromkeys(ALL, Said.NO))
    for number, record in enumerate(records):
        for at, row in enumerate(rows):
            yield record, Scene(row, CARRIED[(number + at) % len(CARRIED)]), (ALL[(number + at) % len(ALL)],)


def several_fields(records: Sequence[Record], count: int) -> Iterator[tuple[list[Possible], Scene]]:
    """Sets of two to six records, as likely as one another, each in a scene."""
    draw = Random("several")
    scenes = (Scene(), CLEAR, CLEAR.having(fire="yes"), CLEAR.having(left_down="yes", power_alive="no"))
    for number in range(count):
        chosen = draw.sample(records, 2 + number % 5)
        yield [Possible(f"{at}", each, 0.9 / len(chosen)) for at, each in enumerate(chosen)], scenes[number % 4]


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.eval.steps", description=__doc__)
    parser.add_argument("--generated", type=int, default=1000)
    parser.add_argument("--small", action="store_true", help="a hundred generated records, a twelfth of the plans")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args(argv)
    known = (*demo_records().values(), *generated_records(100 if options.small else options.generated))
    records = (None, *told_apart(known))
    print(f"{len(known)} records, {len(records) - 1} sets of derived facts, {len(shipped_table().rules)} rules")
    faults: Counter[str] = Counter()
    plans = 0
    for record, scene, fields in islice(trials(records), 0, None, THINNED if options.small else 1):
        plans += 1
        faults.update(name for name, _ in broken(record, scene))
        if plans % UNKNOWN_EVERY == 0:
            faults["unknown_takes_nothing"] += len(list(unknown_takes_nothing(record, scene, fields)))
    print(f"{plans} scenes tried")
    known_only = [record for record in records if record is not None]
    for number, record in enumerate(known_only[:: THINNED if options.small else 1]):
        faults["silence_takes_nothing"] += len(list(silence_takes_nothing(record, CLEAR, AIDS_EVERY, number)))
    sets = list(several_fields(known_only, SEVERAL // (THINNED if options.small else 1)))
    for possible, shared in sets:
        plan = plan_for_several(PossibleVehicles(possible, 0.1), shared)
        wrong = [list(wrong_without_a_word(plan, each.record, shared)) for each in possible]
        faults["no_step_wrong_for_a_possible_vehicle"] += sum(map(len, wrong))
    print(f"{len(sets)} sets of two to six possible vehicles")
    names = (*CHECKS, "unknown_takes_nothing", "silence_takes_nothing", "no_step_wrong_for_a_possible_vehicle")
    return report("eval.steps", [Gate(f"steps_{name}", faults[name], 0, most=True) for name in names], options.json)


if __name__ == "__main__":
    raise SystemExit(main())
