"""What a site adds: rules and wording of its own, never a caution less."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.plan.claims import claims
from catalog.plan.scene import Scene
from catalog.plan.site import WARNING, with_site
from catalog.plan.steps import Plan, plan_for
from catalog.plan.table import PARTS, shipped_table
from tests.plan_cases import demo_records
from tests.plan_situations import CLEAR

LOCAL: dict[str, Any] = {
    "rules": [
        {"id": "tunnel_fan", "phase": "approach", "order": 23, "when": {"is": ["enclosed", "yes"]}, "unknown": "look",
         "caution": "tunnel_fan", "source": ["site"]},
        {"id": "ring_yard", "joins": ["store_it"], "order": 31, "source": ["site"]},
    ],
    "steps": {
        "tunnel_fan": {"do": "Ask control for the tunnel fans."},
        "chock": {"do": "Two wedges, near side rear wheel.", "not": ["Wedges are not a lock."]},
    },
    "lines": {"ring_yard": {"part": "how", "say": "Ring the north yard before loading."}},
    "cautions": {"tunnel_fan": "If in the tunnel: ask control for the fans."},
    "sources": {"site": "local procedure 12"},
}  # fmt: skip
SCENES = (Scene(), Scene().having(**CLEAR), Scene().having(enclosed="yes", fire="yes", danger_to_life="yes"))


def _both(document: dict[str, Any], scene: Scene) -> tuple[Plan, Plan]:
    record = demo_records()["76R-MJZ"]
    return plan_for(record, scene), plan_for(record, scene, with_site(shipped_table(), document))


def test_rules_of_a_site_are_added_and_named_as_such() -> None:
    _, local = _both(LOCAL, SCENES[2])
    step = local.step("tunnel_fan")
    assert step is not None
    assert step.site
    assert step.sources == ("local procedure 12",)
    stored = local.step("store_it")
    assert stored is not None
    assert "Ring the north yard before loading." in stored.part("how")
    _, unknown = _both(LOCAL, SCENES[0])
    looking = unknown.step("look_first")
    assert looking is not None
    assert LOCAL["cautions"]["tunnel_fan"] in looking.part("how")


def test_wording_of_a_site_replaces_sentences_but_the_warnings_stay() -> None:
    before, after = _both(LOCAL, SCENES[1])
    old, new = before.step("chock"), after.step("chock")
    assert old is not None
    assert new is not None
    assert new.do == "Two wedges, near side rear wheel."
    assert new.part("not") == (*old.part("not"), "Wedges are not a lock.")
    assert "Chock always." in new.part("why")


_TEXT = st.sampled_from(["Do it our way.", "Ask the officer.", "See the card."])
_STEPS = st.dictionaries(
    st.sampled_from(sorted(shipped_table().words["steps"])),
    st.fixed_dictionaries({}, optional={"do": _TEXT, **{part: st.lists(_TEXT, max_size=2) for part in PARTS}}),
    max_size=6,
)
_CAUTIONS = st.dictionaries(st.sampled_from(sorted(shipped_table().words["cautions"])), _TEXT, max_size=4)


@settings(max_examples=40)
@given(steps=_STEPS, cautions=_CAUTIONS, scene=st.sampled_from(SCENES))
def test_no_wording_of_a_site_takes_a_caution_or_a_warning_away(
    steps: dict[str, Any], cautions: dict[str, str], scene: Scene
) -> None:
    before, after = _both({"steps": steps, "cautions": cautions}, scene)
    assert [step.key for step in after.steps] == [step.key for step in before.steps]
    for key, text in before.cautions.items():
        assert after.cautions[key].startswith(text)
    for old, new in zip(before.steps, after.steps, strict=True):
        assert set(old.cautions) <= set(new.cautions)
        for part in WARNING:
            assert set(old.part(part)) <= set(new.part(part))
        if old.id in steps and old.cautions:
            said = " ".join(new.texts())
            rule = next(rule for rule in shipped_table().rules if rule.id == old.id)
            assert not rule.caution or before.cautions[rule.caution] in said


@pytest.mark.parametrize(
    ("document", "said"),
    [
        ({"rules": [{"id": "chock", "phase": "motion", "order": 99, "source": ["practice"]}]}, "cannot change"),
        ({"rules": [{"id": "new", "phase": "motion", "source": ["practice"]}]}, "needs an id and an order"),
        ({"rules": [{"id": "new", "phase": "later", "order": 1, "source": ["practice"]}],
          "steps": {"new": {"do": "Wait."}}}, "phase 'later'"),
        ({"rules": [{"id": "new", "phase": "motion", "order": 1, "source": ["practice"]}]}, "no 'do' is worded"),
        ({"rules": [{"id": "new", "phase": "motion", "order": 1, "source": ["practice"],
                     "when": {"is": ["rain", "yes"]}}],
          "steps": {"new": {"do": "Wait."}}}, "rain is neither"),
        ({"rules": [{"id": "new", "phase": "motion", "order": 1, "source": ["hearsay"]}],
          "steps": {"new": {"do": "Wait."}}}, "source hearsay"),
        ({"rules": [{"id": "new", "phase": "motion", "order": 1, "source": []}],
          "steps": {"new": {"do": "Wait."}}}, "names no source"),
        ({"rules": [{"id": "new", "drops": ["chock"], "order": 1}]}, "has no drops"),
        ({"steps": {"chock": {"do": ""}}}, "blank"),
        ({"steps": {"chock": {"do": "The vehicle is safe."}}}, "as a fact"),
        ({"steps": {"chock": {"colour": "red"}}}, "no part of a step"),
        ({"without": ["chock"]}, "without is not one of"),
        ({"cautions": {"hold_it": " "}}, "blank"),
    ],
)  # fmt: skip
def test_what_a_site_may_not_do_is_refused_with_its_reason(document: dict[str, Any], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        with_site(shipped_table(), document)


@pytest.mark.parametrize(
    "text",
    ["It is safe now.", "The cable is dead.", "High voltage is off.", "Zero volts.", "It stays off.",
     "The pack is discharged.", "Not much to say. It is safe."],
)  # fmt: skip
def test_a_claim_is_seen(text: str) -> None:
    assert list(claims(text))


@pytest.mark.parametrize(
    "text",
    ["Power off.", "Silence is not off.", "Cut high voltage off.", "Nothing is safe here.",
     "Lamps go out when the last source is off.", "Take the 12 V negative off."],
)  # fmt: skip
def test_no_claim_is_seen_where_there_is_none(text: str) -> None:
    assert not list(claims(text))
