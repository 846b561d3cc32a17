"""The invariants of the steps, on the demo catalogue and on any vehicle: a seeded sample of the scenes.

`python -m tests.eval.steps` tries all scenes on all demo records and a thousand generated ones.
"""

from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.domain.record import Record
from catalog.plan.scene import Said, Scene
from catalog.plan.table import shipped_table
from tests.plan_cases import ALL, CARRIED, SAID, covering, demo_records, fields_read, scenes_for, told_apart
from tests.plan_invariants import broken, unknown_takes_nothing
from tests.strategies import records

RULES = shipped_table().rules
SAMPLE = 300
RECORDS: tuple[Record | None, ...] = (None, *told_apart(demo_records().values()))


def _sample() -> list[tuple[int, Record | None, Scene]]:
    draw = Random("steps")
    made = []
    for _ in range(SAMPLE):
        number = draw.randrange(len(RULES))
        record = draw.choice(RECORDS)
        scenes = list(scenes_for(RULES[number], record, draw.randrange(1000)))
        made.append((number, record, draw.choice(scenes)))
    return made


def test_the_invariants_hold_in_sampled_scenes_of_every_rule() -> None:
    faults = [fault for _, record, scene in _sample() for fault in broken(record, scene)]
    assert not faults, faults[:5]


@pytest.mark.parametrize("record", [None, *RECORDS[1::12]], ids=lambda r: "any" if r is None else r.identity.title)
def test_the_invariants_hold_pairwise_over_all_fields(record: Record | None) -> None:
    rows = [*covering(ALL, 1), dict.fromkeys(ALL, Said.UNKNOWN), dict.fromkeys(ALL, Said.NO)]
    faults = [
        fault for number, row in enumerate(rows) for fault in broken(record, Scene(row, CARRIED[number % len(CARRIED)]))
    ]
    assert not faults, faults[:5]


def test_not_knowing_never_takes_a_caution_away() -> None:
    found = []
    for number, record, scene in _sample()[::4]:
        fields = fields_read(RULES[number], record)
        found += list(unknown_takes_nothing(record, scene, fields))
    assert not found, found[:5]


@settings(max_examples=60)
@given(
    record=st.sampled_from(RECORDS),
    values=st.dictionaries(st.sampled_from(ALL), st.sampled_from(SAID)),
    carried=st.sampled_from(CARRIED),
)
def test_the_invariants_hold_in_any_scene(
    record: Record | None, values: dict[str, Said], carried: frozenset[str] | None
) -> None:
    scene = Scene(values, carried)
    assert not list(broken(record, scene))
    assert not list(unknown_takes_nothing(record, scene, tuple(values)[:3]))


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(record=records(), values=st.dictionaries(st.sampled_from(ALL), st.sampled_from(SAID)))
def test_no_record_however_odd_breaks_them(record: Record, values: dict[str, Said]) -> None:
    for check, fault in broken(record, Scene(values)):
        assert check == "nothing_claimed", fault  # its texts are any text


def test_covering_rows_hold_every_pair() -> None:
    rows = covering(ALL, 1)
    for at, first in enumerate(ALL):
        for second in ALL[at + 1 :]:
            assert {(row[first], row[second]) for row in rows} == {(x, y) for x in SAID for y in SAID}
