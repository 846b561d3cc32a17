"""The rule table, its conditions and its fields: what may be written, and how it is weighed."""

from itertools import product
from typing import Any

import pytest

from catalog.domain.said import SCENE
from catalog.plan.conditions import faults, holds, missing, names
from catalog.plan.derived import MADE_OF
from catalog.plan.derived_items import METHOD, ONCE, OPEN_WORDS, PORT, Values, names_for
from catalog.plan.scene import DONE, FIELDS, Said, Scene, both, either, field_words, fitting, opposite
from catalog.plan.steps import plan_for
from catalog.plan.subject import subject_of
from catalog.plan.table import shipped_table, table_faults
from tests.plan_cases import demo_records
from tests.plan_situations import CLEAR

YES, NO, UNKNOWN = Said.YES, Said.NO, Said.UNKNOWN
# What is said of a scene that is no field of it: said otherwise, or of no use to steps.
NOT_A_FIELD = {"smoke", "on_wheels", "rolled", "damage", "damage_under", "power_dead", "coupler_carried",
               "caller_inside", "caller_beside", "caller_away", "caller_passing"}  # fmt: skip
# Of these a rule that says "only if" takes what is not known as it is.
NEVER_ASKED = {"refuses_drive", "plugs_in", "record_known", "cut_off_not_needed", "doors_need_power",
               "port_door_needs_power", "two_wheeled"}  # fmt: skip


def test_the_shipped_table_has_no_faults() -> None:
    assert not list(table_faults(shipped_table()))


def test_every_word_belongs_to_a_rule_and_every_rule_has_its_words() -> None:
    table = shipped_table()
    assert set(table.words["steps"]) == {rule.id for rule in table.rules if not rule.joins}
    assert set(table.words["lines"]) == {rule.id for rule in table.rules if rule.joins}
    assert set(table.words["cautions"]) == {rule.caution for rule in table.rules if rule.caution}
    assert set(table.words["holds"]) == set(table.holds) == {key for rule in table.rules for key in rule.holds}
    assert set(table.sources) == {key for rule in table.rules for key in rule.source}


def test_every_rule_is_met_somewhere_and_every_derived_fact_is_read() -> None:
    table = shipped_table()
    read = {name for rule in table.rules for name in names(rule.when)}
    read |= {name for phase in table.phases for name in names(phase.early_when)}
    read |= {name for condition in table.holds.values() for name in names(condition)}
    through_others_only = {"heavy"}
    assert set(ONCE) | set(PORT) | set(METHOD) <= read | set(MADE_OF) | through_others_only


def test_the_scene_has_a_field_for_everything_said_of_one() -> None:
    assert set(SCENE.keys) - set(FIELDS) == NOT_A_FIELD


def test_kleene() -> None:
    assert [either(pair) for pair in product((YES, NO, UNKNOWN), repeat=2)] == [
        YES, YES, YES, YES, NO, UNKNOWN, YES, UNKNOWN, UNKNOWN]  # fmt: skip
    for pair in product(Said, repeat=2):
        assert both(pair) == opposite(either(map(opposite, pair)))


@pytest.mark.parametrize(
    ("condition", "value", "said"),
    [
        ({"is": ["fire", "yes"]}, YES, YES),
        ({"is": ["fire", "yes"]}, NO, NO),
        ({"is": ["fire", "yes"]}, UNKNOWN, UNKNOWN),
        ({"is": ["fire", "yes", "unknown"]}, UNKNOWN, YES),
        ({"is": ["fire", "no"]}, UNKNOWN, UNKNOWN),
        ({"not": {"is": ["fire", "yes"]}}, UNKNOWN, UNKNOWN),
        ({"all": [{"is": ["fire", "no"]}, {"any": []}]}, UNKNOWN, NO),
        ({"all": []}, UNKNOWN, YES),
    ],
)
def test_a_condition_is_weighed(condition: dict[str, Any], value: Said, said: Said) -> None:
    assert holds(condition, lambda _: value) is said


def test_what_is_missing_is_named_with_the_value_that_it_takes() -> None:
    condition = {"all": [{"is": ["fire", "no"]}, {"not": {"is": ["leak", "yes"]}}, {"is": ["slope", "yes"]}]}
    assert list(missing(condition, lambda name: YES if name == "slope" else UNKNOWN)) == [("fire", NO), ("leak", NO)]


@pytest.mark.parametrize(
    "condition",
    ["fire", {}, {"is": ["fire"]}, {"is": ["rain", "yes"]}, {"is": ["fire", "perhaps"]}, {"some": []},
     {"all": [], "any": []}, {"all": {"is": ["fire", "yes"]}}],
)  # fmt: skip
def test_a_condition_that_cannot_be_weighed_is_refused(condition: object) -> None:
    assert list(faults(condition, names_for("once")))


def test_deep_water_is_water_and_no_water_is_not_deep() -> None:
    assert Scene().having(water_salt="yes").said("water") is YES
    assert Scene().having(water="no").said("water_deep") is NO
    assert Scene().said("water") is UNKNOWN
    assert all(Scene().said(key) is NO for key in DONE)


@pytest.mark.parametrize(
    ("values", "carried", "caller"),
    [({"rain": YES}, None, "unknown"), ({}, frozenset({"type9"}), "unknown"), ({}, None, "nowhere")],
)
def test_a_scene_that_does_not_exist_is_refused(
    values: dict[str, Said], carried: frozenset[str] | None, caller: str
) -> None:
    with pytest.raises(ValueError, match="known:"):
        Scene(values, carried, caller)
    with pytest.raises(KeyError):
        Scene().said("rain")


def test_every_field_has_words_for_yes_and_no() -> None:
    for key in (*FIELDS, *DONE):
        assert field_words(key, YES) != field_words(key, NO)


def test_what_may_be_unknown_has_words_to_ask_for_it() -> None:
    """Every name of a rule that is given with "only if" can be said."""
    for rule in shipped_table().rules:
        if rule.unknown == "if":
            for name in names(rule.when):
                assert name in (*FIELDS, *DONE, *MADE_OF, *OPEN_WORDS, *NEVER_ASKED), (rule.id, name)


def test_carried_couplers_are_matched_to_the_port() -> None:
    record = demo_records()["76R-MJZ"]  # CCS2
    for carried, fits in ((None, UNKNOWN), ({"type2"}, YES), ({"ccs2"}, YES), ({"type1", "j3400"}, NO), (set(), NO)):
        scene = Scene(carried=None if carried is None else frozenset(carried)).having(**CLEAR)
        values = Values(subject_of(record, scene), scene)
        assert values.of("ports[a]")("port_takes_carried") is fits
        plan = plan_for(record, scene)
        assert (plan.step("plug") is None) is (fits is NO)
        assert (plan.step("plug_none_fits") is None) is (fits is not NO)


def test_the_upper_half_of_a_combined_port_takes_the_ac_coupler() -> None:
    assert fitting("ccs2") == {"ccs2", "type2"}
    assert fitting("ccs1") == {"ccs1", "type1"}
    assert fitting("own") == frozenset()


def test_a_conversion_withholds_the_records_power_facts() -> None:
    record = demo_records()["76R-MJZ"]
    plan = plan_for(record, Scene().having(**{**CLEAR, "converted": "yes"}))
    ids = {step.id for step in plan.steps}
    assert {"converted", "cut_any", "port_alone"} <= ids
    assert not ids & {"plug", "cut_loop", "cut_disconnect", "cut_low_voltage"}
    shown = " ".join(text for step in plan.steps for text in step.texts())
    assert "RESCUE LOOP 2" not in shown
    assert plan.step("doors") is not None


def test_a_loop_that_cannot_be_reached_as_it_lies_is_the_next_way() -> None:
    record = demo_records()["9JT-WV2"]
    lying = plan_for(record, Scene().having(**{**CLEAR, "left_down": "yes"}))
    assert lying.step("cut_out_of_reach") is not None
    upright = plan_for(record, Scene().having(**CLEAR))
    assert upright.step("cut_out_of_reach") is None


def test_unknown_fire_lets_the_port_be_said_with_its_condition_and_yes_does_not() -> None:
    record = demo_records()["76R-MJZ"]
    step = plan_for(record, Scene().having(**{**CLEAR, "fire": "unknown", "water": "unknown"})).step("plug")
    assert step is not None
    assert step.only_if[:2] == ("no fire or smoke", "not in water")
    assert plan_for(record, Scene().having(**{**CLEAR, "fire": "yes"})).step("plug") is None
