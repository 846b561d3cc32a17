"""Steps while the vehicle is uncertain: nothing is wrong for a possible vehicle without being named as differing."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from random import Random

import pytest

from catalog.plan.merging import in_ten
from catalog.plan.scene import Scene
from catalog.plan.several import COUNTS, Field, Kind, Possible, SeveralPlan, plan_for_several
from catalog.plan.steps import Plan, plan_for
from tests.plan_cases import demo_records
from tests.plan_invariants import wrong_without_a_word
from tests.plan_situations import CLEAR

SIGHTS = ("number plate hinges at the top", "number plate hinges at the left")
SCENES = (Scene(), Scene().having(**CLEAR), Scene().having(fire="yes"))


def _field(codes: Sequence[str], unlisted: float = 0.1) -> Field:
    records = demo_records()
    return Field([Possible(code, records[code], (1 - unlisted) / len(codes)) for code in codes], unlisted)


def _several(codes: Sequence[str], scene: Scene) -> SeveralPlan:
    return plan_for_several(_field(codes), scene, lambda *_: SIGHTS)


def _drawn(size: int, count: int) -> list[tuple[str, ...]]:
    draw = Random(f"several/{size}")
    return [tuple(draw.sample(sorted(demo_records()), size)) for _ in range(count)]


@pytest.mark.parametrize("codes", [*_drawn(2, 12), *_drawn(3, 6), *_drawn(6, 4)], ids=" ".join)
@pytest.mark.parametrize("scene", SCENES, ids=("nothing known", "clear", "fire"))
def test_no_step_is_wrong_for_a_possible_vehicle_without_naming_the_difference(
    codes: tuple[str, ...], scene: Scene
) -> None:
    several = _several(codes, scene)
    for code in codes:
        faults = list(wrong_without_a_word(several, demo_records()[code], scene))
        assert not faults, (code, faults)


@pytest.mark.parametrize("codes", _drawn(2, 12), ids=" ".join)
def test_two_branches_say_every_line_of_each(codes: tuple[str, ...]) -> None:
    several = _several(codes, SCENES[1])
    assert several.kind is Kind.BRANCHES
    assert [branch.letter for branch in several.branches] == ["A", "B"]
    text = _everything(several.plan)
    for branch in several.branches:
        own = plan_for(demo_records()[branch.codes[0]], SCENES[1])
        for step in own.steps:
            for line in step.texts()[1:]:
                assert line in text or f"{branch.letter}: {line}" in text, (step.key, line)


def _everything(plan: Plan) -> set[str]:
    return {text for step in plan.steps for text in step.texts()}


@pytest.mark.parametrize("codes", [*_drawn(2, 8), *_drawn(5, 3)], ids=" ".join)
def test_chock_and_park_still_come_before_any_port(codes: tuple[str, ...]) -> None:
    steps = [step.id for step in _several(codes, SCENES[1]).plan.steps]
    ports = [at for at, id_ in enumerate(steps) if id_ in ("plug", "port_open", "plug_any")]
    for first in (("chock", "chock_cycle"), ("park", "park_cycle"), ("power_off",)):
        last = max(at for at, id_ in enumerate(steps) if id_ in first)
        assert all(last < at for at in ports)


@pytest.mark.parametrize("codes", _drawn(2, 12), ids=" ".join)
def test_ways_of_cutting_off_keep_the_order_of_each_guide(codes: tuple[str, ...]) -> None:
    several = _several(codes, SCENES[1])
    for branch in several.branches:
        own = [s.id for s in plan_for(demo_records()[branch.codes[0]], SCENES[1]).steps if "methods[" in s.item]
        other = "B" if branch.letter == "A" else "A"
        said = [s for s in several.plan.steps if "methods[" in s.item and f"it is {other}" not in s.only_if]
        assert [step.id for step in said] == own


def test_of_two_the_sight_is_said_and_the_same_steps_come_first_in_a_phase() -> None:
    several = _several(("2ZW-B46", "76R-MJZ"), SCENES[1])
    telling = several.plan.step("tell_apart")
    assert telling is not None
    assert telling.part("how") == tuple(f"{letter}: {sight}" for letter, sight in zip("AB", SIGHTS, strict=True))
    for phase in ("power", "restraints", "access", "hand_over"):
        differs = [step.differs for step in several.plan.steps if step.phase == phase]
        assert differs == sorted(differs)


def test_without_a_sight_it_is_badge_and_vin() -> None:
    several = plan_for_several(_field(("2ZW-B46", "76R-MJZ")), SCENES[1])
    telling = several.plan.step("tell_apart")
    assert telling is not None
    assert telling.part("how") == ("No sight tells A from B for sure: badge, then VIN.",)


def test_a_wide_field_is_the_steps_for_any_vehicle_and_every_cut_place() -> None:
    codes = _drawn(6, 1)[0]
    several = _several(codes, SCENES[1])
    assert several.kind is Kind.WIDE
    ids = {step.id for step in several.plan.steps}
    instead = {"plug_any": "plug", "identify_any": "identify"}
    for step in plan_for(None, SCENES[1]).steps:
        assert step.id in ids or instead.get(step.id) in ids
    text = " ".join(_everything(several.plan))
    for code in codes:
        for step in plan_for(demo_records()[code], SCENES[1]).steps:
            if "methods[" in step.item and step.part("where"):
                assert step.part("where")[0] in text


def test_vehicles_of_less_than_one_in_a_hundred_do_not_count() -> None:
    records = demo_records()
    few = Field([Possible("76R-MJZ", records["76R-MJZ"], 0.98), Possible("BHZ-QCF", records["BHZ-QCF"], COUNTS)], 0.0)
    assert plan_for_several(few, SCENES[1]).kind is Kind.ONE
    nobody = Field([Possible("76R-MJZ", records["76R-MJZ"], COUNTS)], 0.99)
    none = plan_for_several(nobody, SCENES[1])
    assert (none.kind, none.plan) == (Kind.ANY, plan_for(None, SCENES[1]))


def test_the_same_vehicle_twice_is_the_same_on_all() -> None:
    record = demo_records()["76R-MJZ"]
    twins = Field([Possible(code, record, 0.45) for code in ("AAA-AAA", "BBB-BBB")], 0.1)
    several = plan_for_several(twins, SCENES[1])
    assert several.kind is Kind.SAME
    assert {step.share for step in several.plan.steps} == {0.9}


def test_the_order_of_the_possible_vehicles_does_not_matter() -> None:
    for codes in _drawn(3, 2):
        plans = {_everything_in_order(_several(order, SCENES[1]).plan) for order in _orders(codes)}
        assert len(plans) == 1


def _orders(codes: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    yield codes
    for a, b in combinations(range(len(codes)), 2):
        swapped = list(codes)
        swapped[a], swapped[b] = swapped[b], swapped[a]
        yield tuple(swapped)


def _everything_in_order(plan: Plan) -> tuple[tuple[str, ...], ...]:
    return tuple(step.texts() for step in plan.steps)


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.02, "fewer than 1 in 10"), (0.31, "about 3 in 10"), (0.94, "about 9 in 10"), (0.99, "more than 9 in 10")],
)
def test_shares_are_said_in_tens_and_never_as_all(share: float, words: str) -> None:
    assert in_ten(share) == words
