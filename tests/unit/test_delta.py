"""Deltas: apply makes the new facts, the inverse takes them back, nothing is missed."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.delta import FactChange, PlainChange, apply, difference
from catalog.domain.documents import record_from_document
from catalog.domain.facts import NOT_STATED, State, stated
from catalog.domain.record import Record
from tests.sample import REMOVE, absent, said, sample
from tests.strategies import records


@st.composite
def _revisions(draw: st.DrawFn) -> tuple[Record, Record]:
    """Two records that share part of their facts, as revisions do."""
    old, new = draw(records()), draw(records())
    shared = draw(st.sets(st.sampled_from(sorted(old.facts)))) if old.facts else set()
    return old, replace(new, facts={**new.facts, **{path: old.facts[path] for path in shared}})


@settings(max_examples=20)
@given(_revisions())
def test_apply_makes_the_new_facts_and_its_inverse_takes_them_back(pair: tuple[Record, Record]) -> None:
    old, new = pair
    delta = difference(old, new)
    assert apply(old.facts, delta) == dict(new.facts)
    assert apply(new.facts, delta.inverted()) == dict(old.facts)
    assert delta.inverted().inverted() == delta
    assert set(difference(new, old).facts) == set(delta.inverted().facts)
    assert set(difference(new, old).plain) == set(delta.inverted().plain)


@settings(max_examples=20)
@given(records())
def test_nothing_differs_from_itself_and_all_differs_from_nothing(record: Record) -> None:
    assert not difference(record, record)
    born = difference(None, record)
    assert apply({}, born) == dict(record.facts)
    assert all(change.old == NOT_STATED for change in born.facts)
    assert all(change.old == "" for change in born.plain)
    assert difference(record, None) == born.inverted()


def test_each_kind_of_change_is_told() -> None:
    old = record_from_document(sample({"looks.tailpipe": absent(), "energy.packs.0.voltage": said(400)}))
    new = record_from_document(
        sample(
            {
                "identity.years.to": 2025,
                "looks.doors": said(4),
                "energy.packs.0.voltage": REMOVE,
                "restraints.wait": {"disputed": [said(60), said(120, "KEL-7/2:9")]},
                "cutoff.methods.0": REMOVE,
                "complete": {"ports": said(True)},
                "notes": [{"id": "a", "lang": "en", "text": "Seen at a fire.", "src": ["SEEN-4/1"]}],
            }
        )
    )
    delta = difference(old, new)
    assert delta
    states = {change.path: (change.old.state, change.new.state) for change in delta.facts}
    assert states == {
        "looks.doors": (State.STATED, State.STATED),
        "looks.tailpipe": (State.NOT_FITTED, State.NOT_STATED),
        "cutoff.methods[a].kind": (State.STATED, State.NOT_STATED),
        "energy.packs[a].voltage": (State.STATED, State.NOT_STATED),
        "restraints.wait": (State.NOT_STATED, State.DISPUTED),
    }
    assert delta.plain == (
        PlainChange("identity.years", "2021–2024", "2021–2025"),
        PlainChange("order.cutoff.methods", "a, b, c", "b, c"),
        PlainChange("complete.ports", "", "KEL-7/1:4"),
        PlainChange("notes.a", "", "Seen at a fire. (en; SEEN-4/1)"),
    )


def test_the_order_of_methods_is_a_change() -> None:
    forward = sample()
    backward = sample({"cutoff.methods": forward["cutoff"]["methods"][::-1]})
    delta = difference(record_from_document(forward), record_from_document(backward))
    assert delta.facts == ()
    assert delta.plain == (PlainChange("order.cutoff.methods", "a, b, c", "c, b, a"),)


def test_another_source_of_the_same_value_is_a_change() -> None:
    one, other = sample(), sample({"looks.doors": said(5, "KEL-7/2:4")})
    assert [change.path for change in difference(record_from_document(one), record_from_document(other)).facts] == [
        "looks.doors"
    ]


def test_a_delta_is_refused_by_facts_it_was_not_made_against() -> None:
    delta = difference(record_from_document(sample()), record_from_document(sample({"looks.doors": said(4)})))
    with pytest.raises(ValueError, match=r"looks\.doors is not what"):
        apply({"looks.doors": stated(3, "KEL-7/1:4")}, delta)
    with pytest.raises(ValueError, match=r"looks\.doors is not what"):
        apply({}, delta)


def test_a_change_inverts() -> None:
    change = FactChange("looks.doors", NOT_STATED, stated(4))
    assert change.inverted() == FactChange("looks.doors", stated(4), NOT_STATED)
