"""The steps against what others have published; the source stands beside each value.

Read in stored copies and summaries, not clause by clause in the documents themselves.
"""

from catalog.domain.record import attribute_at
from catalog.domain.spec import TREE, ListOf
from catalog.domain.spec.nodes import Number
from catalog.domain.spec.template_order import template_sections
from catalog.plan.brief import compose
from catalog.plan.scene import Scene
from catalog.plan.several import Field, plan_for_several
from catalog.plan.steps import plan_for
from catalog.plan.table import shipped_table
from tests.brief_situations import SITUATIONS
from tests.plan_cases import demo_records
from tests.plan_situations import CLEAR

CALM = Scene().having(**CLEAR)

# UN R100 Rev.3, 5.3.3 (summary): propulsion is impossible while the vehicle connector is physically connected for
# charging. A design requirement: nothing about rolling, nothing about high voltage.
R100_DRIVE = "UN R100 Rev.3, 5.3.3"

# SAE J2990 (ANSI webstore): hazard groups chemical, electrical, thermal. Which words of a step address which is ours.
J2990_GROUPS = {
    "chemical": ("toxic", "breathing apparatus", "Vapour is not steam"),
    "electrical": ("orange cable", "stays live", "live"),
    "thermal": ("re-ignition", "heat", "pack fire", "plenty of water"),
}

# ISO 17840-3 (iso.org 67353): immobilisation, disabling hazards, access, shut-off, stored energy; fire and
# submersion; towing, transport, storage. Identification comes first (FACTS from memory for the exact headings).
ISO_17840_3 = ("approach", "motion", "cutoff", "access", "fire_water", "hand_over")

# GTR 20 as quoted in NTSB SR-20/01, and UN R100: 60 V DC within 60 s after a crash. An option for type approval,
# never a wait that a crew may count on.
GTR20_SECONDS = 60

# Headings of the guide template, one telling word each; from memory, but for the order.
ISO_17840_3_HEADINGS = ("identification", "immobilisation", "hazards", "access", "energy", "fire", "submersion",
                        "towing", "additional")  # fmt: skip

# UN R100 Rev.3: high voltage above 60 V and up to 1,500 V DC. FMVSS 305: above 60 V DC.
CLASS_B_DC = (60, 1500)

# 50 ft (15 m): Washington SB 5909 report citing NHTSA.
STAND_OFF = "15 m (50 ft)"

# Rule of thumb, side 5, driver 10, passenger 20 in: a fire-academy note and a trade magazine. Variants exist; it is
# no standard, and the step says common practice. 1 in = 25.4 mm exactly (NIST SP 811).
AIRBAG_INCHES = (5, 10, 20)


def test_a_mated_coupler_prevents_drive_and_is_never_the_only_thing_done() -> None:
    for record in (None, demo_records()["76R-MJZ"]):
        plan = plan_for(record, CALM)
        plugs = [step for step in plan.steps if step.id in ("plug", "plug_any")]
        assert plugs
        for step in plugs:
            assert R100_DRIVE in step.sources
            assert any("does not cut high voltage off" in text for text in step.part("not"))
            assert plan.steps.index(step) > 0
            assert any(each.id == "chock" for each in plan.steps[: plan.steps.index(step)])


def test_all_hazard_groups_are_addressed_by_the_steps_for_any_vehicle() -> None:
    text = " ".join(text for step in plan_for(None, Scene()).steps for text in step.texts())
    for group, words in J2990_GROUPS.items():
        assert any(word in text for word in words), group
    look = plan_for(None, Scene()).step("look_first")
    assert look is not None
    assert shipped_table().sources["j2990"] in look.sources


def test_the_phases_keep_the_order_of_the_guide_template() -> None:
    order = [key for key, _ in plan_for(None, Scene()).phases]
    assert [key for key in order if key in ISO_17840_3] == list(ISO_17840_3)


def test_the_other_view_of_a_record_has_the_sections_of_the_template_in_its_order() -> None:
    """ISO 17840-3 by iso.org 67353 (content order) and, for the exact headings, from memory."""
    sections = template_sections()
    assert [section.number for section in sections] == list(range(1, 10))
    for section, word in zip(sections, ISO_17840_3_HEADINGS, strict=True):
        assert word in section.title.lower()
    held = [
        f"{part.prefix}.{node.key}".strip(".") for section in sections for part in section.parts for node in part.nodes
    ]
    whole = [
        top.key if isinstance(top, ListOf) else f"{top.key}.{node.key}"
        for top in TREE
        for node in ((top,) if isinstance(top, ListOf) else top.children)
    ]
    assert sorted(held) == sorted(whole)


def test_voltage_classes_of_sources_and_packs() -> None:
    """UN R100 Rev.3 and FMVSS 305: above 60 V DC (30 V AC rms) is high voltage, up to 1,500 V DC."""
    low, pack = attribute_at("energy.low_voltage[].voltage"), attribute_at("energy.packs[].voltage")
    assert isinstance(low.kind, Number)
    assert isinstance(pack.kind, Number)
    assert low.kind.high == CLASS_B_DC[0]
    assert pack.kind.high == CLASS_B_DC[1]
    assert all(
        isinstance(fact.value, int) and fact.value <= CLASS_B_DC[0]
        for record in demo_records().values()
        for path, fact in record.facts.items()
        if path.startswith("energy.low_voltage[") and path.endswith(".voltage") and fact.value is not None
    )


def test_sixty_seconds_are_a_wait_only_where_the_guide_says_so() -> None:
    """GTR 20 and UN R100 allow 60 s to fall below 60 V after a crash test; no step and no brief counts on it."""
    for record in demo_records().values():
        stated = {value for path, fact in record.facts.items() if path.endswith("wait") for value in fact.values()}
        said = [text for step in plan_for(record, CALM).steps for text in step.part("wait")]
        if GTR20_SECONDS not in stated:
            assert not any(f"{GTR20_SECONDS} s" in text for text in said)


def test_a_brief_never_offers_the_port_as_the_only_thing_that_stops_it() -> None:
    """UN R100 Rev.3, 5.3.3 is about drive: who is offered the port chocks first and hears that it stops drive only."""
    offered = 0
    for told in SITUATIONS:
        brief = compose(told.asked())
        keys = [breath.key for breath in brief.breaths]
        port = next(breath.text for breath in brief.breaths if breath.key == "port")
        if "last" in port:
            offered += 1
            assert "stops drive only" in port
            assert keys.index("motion") < keys.index("port")
    assert offered


def test_no_type_approval_time_is_ever_given_as_a_wait() -> None:
    """Where a guide states no wait, 60 s is not put in its place."""
    for step in plan_for(None, Scene()).steps:
        assert not any(f"{GTR20_SECONDS} s" in text for text in step.part("wait"))


def test_distance_outdoors() -> None:
    step = plan_for(None, Scene()).step("store_it")
    assert step is not None
    assert STAND_OFF in step.do
    assert shipped_table().sources["storage"] in step.sources


def test_airbag_distances_are_a_rule_of_thumb_and_never_cut_short() -> None:
    step = plan_for(None, Scene()).step("restraint_wait")
    assert step is not None
    text = " ".join(step.part("how"))
    for inches, centimetres in zip(AIRBAG_INCHES, (15, 30, 60), strict=True):
        assert f"{centimetres} cm" in text
        assert centimetres * 10 >= inches * 25.4
    assert "rule of thumb, common practice, no source" in step.sources


def test_rules_of_thumb_say_that_they_have_no_source() -> None:
    """Every step either cites a guide or a published document, or says common practice."""
    table = shipped_table()
    assert table.sources["practice"] == "common practice, no source"
    plan = plan_for_several(Field(()), Scene()).plan
    assert all(step.sources for step in plan.steps)
