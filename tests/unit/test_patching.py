"""Taking the changes of a document one by one."""

from copy import deepcopy
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from catalog.domain.delta import difference
from catalog.domain.documents import record_from_document
from catalog.domain.patching import document_of, fields_of, patch_between, patched
from tests.sample import said, sample
from tests.strategies import documents


@given(documents())
def test_fields_and_document_are_inverse(document: dict[str, Any]) -> None:
    assert document_of(fields_of(document)) == document


@given(documents(), documents())
def test_a_whole_patch_gives_the_new_document(old: dict[str, Any], new: dict[str, Any]) -> None:
    made = patched(old, patch_between(old, new))
    # The order of notes is the one thing a patch does not carry.
    for one in (made, new):
        one.get("notes", []).sort(key=lambda note: note["id"])
    assert record_from_document(made) == record_from_document(new)


@given(documents(), documents(), st.randoms())
def test_taken_one_by_one_in_any_order_it_is_the_same(old: dict[str, Any], new: dict[str, Any], draw: Any) -> None:
    patch = patch_between(old, new)
    names = list(patch)
    draw.shuffle(names)
    made = old
    for name in names:
        made = patched(made, {name: patch[name]})
    whole = record_from_document(patched(old, patch))
    assert not difference(record_from_document(made), whole).facts


@given(documents(), documents())
def test_a_patch_names_what_the_delta_names(old: dict[str, Any], new: dict[str, Any]) -> None:
    delta = difference(record_from_document(old), record_from_document(new))
    named = {change.path for change in delta.facts} | {change.path for change in delta.plain}
    # The delta tells what a list says to be complete by its sources alone.
    patch = {name for name in patch_between(old, new) if not name.startswith("complete.")}
    assert {name for name in named if not name.startswith("complete.")} <= patch


def test_a_fact_of_a_new_item_brings_the_item_and_the_last_one_takes_it_away() -> None:
    old = sample()
    new = deepcopy(old)
    new["cutoff"]["methods"].insert(1, {"id": "d", "kind": said("msd"), "wait": said(5)})
    brought = patched(old, {"cutoff.methods[d].wait": said(5)})
    assert [one["id"] for one in brought["cutoff"]["methods"]] == ["a", "b", "c", "d"]
    gone = patched(old, {"cutoff.methods[c].kind": None})
    assert [one["id"] for one in gone["cutoff"]["methods"]] == ["a", "b"]


def test_an_order_alone_takes_no_stated_item_away() -> None:
    kept = patched(sample(), {"order.cutoff.methods": ["b", "a"]})
    assert [one["id"] for one in kept["cutoff"]["methods"]] == ["b", "a", "c"]
