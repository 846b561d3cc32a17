"""Radio texts over all demo records and sampled scenes; what must hold stands in tests/brief_checks.py."""

from dataclasses import replace
from random import Random

import pytest

from catalog.plan.brief import Brief, BriefInput, BriefVehicle, Data, Sure, brief_plan, compose
from catalog.plan.scene import CALLERS, Scene
from catalog.plan.several import COUNTS, Field, Possible
from catalog.resolve.chance import said
from tests.brief_checks import CHECKS, Composed
from tests.brief_situations import SITUATIONS
from tests.plan_cases import ALL, CARRIED, covering, demo_records

SEED = 20261126
DATA = (Data(14, "edition 14, 2026-03-02", demo=True), Data(123, "edition 123, 2026-03-02", demo=True))


def asked_for(shares: dict[str, float], scene: Scene, number: int, *, named: bool = False) -> BriefInput:
    """A brief of some vehicles; of any vehicle without."""
    records = demo_records()
    possible = [Possible(code, records[code], share) for code, share in shares.items()]
    unlisted = 0.0 if named else max(0.0, 1 - sum(shares.values()))
    return BriefInput(
        letter="ABCW"[number % 4],
        data=DATA[number % 2],
        plan=brief_plan(Field(possible, unlisted), scene),
        vehicles=tuple(
            BriefVehicle(
                each.code, each.record.identity.title, "", each.record,
                Sure() if named else Sure(*said(each.probability)),
            )
            for each in sorted(possible, key=lambda one: (-one.probability, one.code)) if each.probability > COUNTS
        ),
        scene=scene,
        unlisted=Sure(*said(unlisted)) if unlisted > COUNTS else Sure(),
    )  # fmt: skip


def scene_of(number: int) -> Scene:
    """A row in which every two fields take every two values together, half of them with more left unknown."""
    rows = covering(ALL, 1)
    draw = Random(SEED + number)
    row = rows[number % len(rows)]
    kept = row if number % 3 else {key: value for key, value in row.items() if draw.random() < 0.3}
    return Scene(kept, CARRIED[number % len(CARRIED)], CALLERS[number % len(CALLERS)])


def faults(asked: BriefInput) -> list[str]:
    made = Composed(asked, compose(asked))
    return [f"{name}: {fault}\n{made.text}" for name, check in CHECKS.items() for fault in check(made)]


def test_one_vehicle_in_sampled_scenes() -> None:
    for number, code in enumerate(demo_records()):
        for turn in range(3):
            at = number * 3 + turn
            asked = asked_for({code: (1.0, 0.86, 0.4)[turn % 3]}, scene_of(at), at, named=turn % 3 == 0)
            assert not faults(asked), (code, at)


def test_several_vehicles_in_sampled_scenes() -> None:
    codes, draw = list(demo_records()), Random(SEED)
    for number in range(60):
        chosen = draw.sample(codes, 2 + number % 4)
        shares = [draw.random() + 0.05 for _ in chosen]
        shares = [share / sum(shares) * draw.choice((0.95, 0.8, 0.5)) for share in shares]
        assert not faults(asked_for(dict(zip(chosen, shares, strict=True)), scene_of(number), number)), (number, chosen)


def test_any_vehicle_in_sampled_scenes() -> None:
    for number in range(50):
        assert not faults(asked_for({}, scene_of(number), number)), number


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda each: each.name)
def test_the_situations_read_aloud(situation: object) -> None:
    assert not faults(situation.asked())  # type: ignore[attr-defined]


BROKEN = {
    "within_its_limits": "Rest in full text." * 30,
    "danger_first": "It can move.\nTreat as pack fire.",
    "nothing_dropped_that_must_not_be": "DEMO. Vehicle A.",
    "port_never_without_its_condition": "Charge port last: stops drive only.",
    "not_stated_waits_are_live": "Then wait 2 min.",
    "the_wait_is_the_longest": "Then wait 1 s.",
    "sides_are_the_vehicles": "Cut loop: left front.",
    "a_cut_place_is_every_vehicles": "Cut loop: vehicle's right rear face.",
    "no_word_that_must_not_be": "It is now safe. 90% sure. Use the inlet.",
}


@pytest.mark.parametrize("name", CHECKS)
def test_each_check_can_fail(name: str) -> None:
    """A text that breaks a rule is seen."""
    asked = asked_for({"76R-MJZ": 1.0}, Scene().having(fire="yes"), 0, named=True)
    if name == "port_never_without_its_condition":
        asked = asked_for({"76R-MJZ": 1.0}, Scene(), 0, named=True)
    whole = compose(asked)
    key = "port" if name == "port_never_without_its_condition" else "cut"
    breaths = tuple(replace(whole.breaths[0], key=key, text=text) for text in BROKEN[name].split("\n"))
    assert list(CHECKS[name](Composed(asked, replace(whole, breaths=breaths)))), name


def test_the_shortest_forms_leave_out_what_the_order_says() -> None:
    """What is left to the full text is named, and everything else is said whole."""
    brief: Brief = compose(asked_for({"76R-MJZ": 1.0}, Scene(), 0, named=True))
    assert set(brief.left_out) <= {"danger", "who", "motion", "port", "cut", "doors", "airbags", "also"}
    assert "Rest in full text." in brief.radio_text
