"""The invariants can fail: each is broken on purpose, by a rule table that is wrong in one place."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from catalog.plan import steps
from catalog.plan.scene import Scene
from catalog.plan.table import Rule, Table, shipped_table
from tests.plan_cases import demo_records
from tests.plan_invariants import broken, unknown_takes_nothing

ALWAYS = {"all": list[object]()}
CLEAR = Scene().having(
    **dict.fromkeys(
        ("fire", "jet", "vapour", "hiss", "pop", "odour", "water", "recovered", "leak", "port_damaged",
         "charger_attached", "orange_cable", "converted"), "no")
)  # fmt: skip


def _with(table: Table, id_: str, change: Callable[[Rule], Rule | None]) -> Table:
    rules = [change(rule) if rule.id == id_ else rule for rule in table.rules]
    return replace(table, rules=tuple(rule for rule in rules if rule is not None))


def _worded(table: Table, id_: str, **parts: object) -> Table:
    return replace(
        table, words={**table.words, "steps": {**table.words["steps"], id_: {**table.words["steps"][id_], **parts}}}
    )


def _gone(rule: Rule) -> None:
    return None


MADE_WRONG: dict[str, tuple[Table, Scene]] = {
    "side_and_chock_first": (_with(shipped_table(), "chock", lambda rule: replace(rule, order=25)), CLEAR),
    "port_after_chock_and_park": (_with(shipped_table(), "plug", lambda rule: replace(rule, order=12)), CLEAR),
    "nothing_attached_where_it_must_not": (
        _with(shipped_table(), "plug", lambda rule: replace(rule, when={"is": ["refuses_drive", "yes"]})),
        CLEAR.having(fire="yes"),
    ),
    "plug_is_not_cutting_off": (
        _with(shipped_table(), "cut_loop", lambda rule: replace(rule, when={"is": ["plug_accepted", "no"]})),
        CLEAR.having(plug_accepted="yes"),
    ),
    "coupler_out_brings_the_caution_back": (
        _with(shipped_table(), "coupler_out", _gone),
        CLEAR.having(coupler_removed="yes"),
    ),
    "link_drop_announced": (_with(shipped_table(), "link_drop", lambda rule: replace(rule, order=90)), CLEAR),
    "motorised_door_gets_the_wedge": (_with(shipped_table(), "port_open", _gone), CLEAR.having(power_alive="no")),
    "airbags_prove_nothing": (_with(shipped_table(), "pyro_proves_nothing", _gone), CLEAR),
    "cutting_has_its_wait": (_worded(shipped_table(), "cut_loop", wait=[]), CLEAR),
    "life_never_waits": (_with(shipped_table(), "life_first", _gone), CLEAR.having(danger_to_life="yes")),
    "cutting_off_dropped_when_confirmed": (
        _with(shipped_table(), "cut_not_needed", lambda rule: replace(rule, when={"is": ["casualty", "yes"]})),
        CLEAR.having(casualty="yes"),
    ),
    "nothing_claimed": (_worded(shipped_table(), "plug", why=["The vehicle is now safe."]), CLEAR),
}  # fmt: skip


@pytest.mark.parametrize("check", MADE_WRONG)
def test_an_invariant_is_seen_to_be_broken(check: str, monkeypatch: pytest.MonkeyPatch) -> None:
    table, scene = MADE_WRONG[check]
    monkeypatch.setattr(steps, "shipped_table", lambda: table)
    assert any(name == check for record in demo_records().values() for name, _ in broken(record, scene))


def test_a_caution_lost_by_not_knowing_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    table = _with(shipped_table(), "overhead_line", lambda rule: replace(rule, unknown="drop"))
    monkeypatch.setattr(steps, "shipped_table", lambda: table)
    assert list(unknown_takes_nothing(None, Scene().having(overhead_line="yes"), ("overhead_line",)))
