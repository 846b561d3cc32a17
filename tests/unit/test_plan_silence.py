"""An aid that is not stated never removes, shortens or replaces a step: silence reads as "no"."""

from dataclasses import replace

import pytest

from catalog.domain.facts import State
from catalog.domain.record import Record
from catalog.plan import steps
from catalog.plan.scene import Scene
from catalog.plan.steps import plan_for
from catalog.plan.table import shipped_table
from tests.plan_cases import demo_records
from tests.plan_invariants import silence_takes_nothing
from tests.plan_situations import CLEAR

ACCESSIBLE = Scene().having(**CLEAR)
RECORDS = list(demo_records().items())[::10]


@pytest.mark.parametrize(("code", "record"), RECORDS, ids=[code for code, _ in RECORDS])
def test_taking_an_aid_out_takes_no_step_and_no_caution_away(code: str, record: Record) -> None:
    assert not list(silence_takes_nothing(record, ACCESSIBLE)), code


def test_an_aid_that_takes_a_step_with_it_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    table = shipped_table()
    needs_brake = {"is": ["way_is_loop", "yes"]}
    wrong = [replace(rule, per="method", when=needs_brake) if rule.id == "cut_way" else rule for rule in table.rules]
    monkeypatch.setattr(steps, "shipped_table", lambda: replace(table, rules=tuple(wrong)))
    assert any(list(silence_takes_nothing(record, ACCESSIBLE)) for _, record in RECORDS)


@pytest.mark.parametrize(("code", "record"), RECORDS, ids=[code for code, _ in RECORDS])
def test_a_wait_that_is_not_stated_is_said_to_be_so(code: str, record: Record) -> None:
    waits = {path for path in record.facts if path.endswith(".wait")}
    facts = {path: fact for path, fact in record.facts.items() if path not in waits}
    for step in plan_for(replace(record, facts=facts), ACCESSIBLE).steps:
        if step.phase == "cutoff" and step.part("wait"):
            said = " ".join(step.part("wait"))
            assert "ot stated: treat as live" in said or "ot stated: treat as armed" in said, (code, step.key)


def test_not_stated_is_said_with_how_it_is_read_and_never_as_none() -> None:
    silent = replace(demo_records()["76R-MJZ"], facts={}, complete={})
    for step in plan_for(silent, ACCESSIBLE).steps:
        for lines in step.parts.values():
            for line in lines:
                if line.state is State.NOT_STATED:
                    assert "not stated" in line.text.lower() or "none stated" in line.text.lower(), line.text
                    assert ": none" not in line.text.lower().replace(": none stated", "")


def test_a_stated_refusal_is_needed_to_count_on_the_port() -> None:
    record = demo_records()["76R-MJZ"]
    facts = {path: fact for path, fact in record.facts.items() if path != "motion.coupled.refuses_drive"}
    plan = plan_for(replace(record, facts=facts), ACCESSIBLE)
    assert plan.step("plug") is None
    told = plan.step("plug_not_stated")
    assert told is not None
    assert any("treat as still able to drive" in text for text in told.part("why"))
