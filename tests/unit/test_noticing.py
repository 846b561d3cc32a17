"""What of a record was read is noted, and only what was read can concern a brief."""

from dataclasses import replace

import pytest

from catalog.domain.delta import difference
from catalog.domain.documents import record_from_document
from catalog.domain.record import Record
from catalog.plan.scene import Said, Scene
from catalog.plan.steps import plan_for
from catalog.services.noticing import Noticed, concerned
from tests.sample import REMOVE, said, sample


def record(**changes: object) -> Record:
    return record_from_document(sample({path.replace("__", "."): value for path, value in changes.items()}))


def shapes_of_plan(one: Record, scene: Scene) -> set[str]:
    noticed = Noticed()
    plan_for(noticed.watch(one), scene)
    return noticed.shapes


def test_what_is_asked_for_is_noted_also_where_it_is_not_there() -> None:
    noticed = Noticed()
    watched = noticed.watch(record())
    watched.fact("ports[a].place")
    watched.fact("motion.selector")
    watched.items.get("ports")
    assert noticed.shapes == {"ports[].place", "motion.selector", "ports[]"}
    assert watched.fact("ports[a].place") == record().fact("ports[a].place")


def test_looking_through_all_counts_as_reading_each() -> None:
    noticed = Noticed()
    assert dict(noticed.watch(record()).facts) == dict(record().facts)
    assert "cutoff.methods[].wait" in noticed.shapes


CHANGES = (
    {"cutoff.methods.1.wait": said(90)},
    {"cutoff.methods.1.wait": REMOVE},
    {"ports.0.place": said({"side": "right", "end": "rear_quarter", "level": "mid"})},
    {"ports.0.door.mechanism": said("motorised")},
    {"looks.doors": said(3)},
    {"looks.width": said(1900)},
    {"energy.packs.0.voltage": said(800)},
    {"energy.packs.0.capacity": said(99000)},
)


@pytest.mark.parametrize("scene", [Scene(), Scene({"fire": Said.YES}), Scene({"converted": Said.YES})])
@pytest.mark.parametrize("change", CHANGES, ids=lambda one: next(iter(one)))
def test_a_change_that_changes_the_steps_always_concerns_them(change: dict[str, object], scene: Scene) -> None:
    """The other way round is allowed: a fact that was read may have decided nothing."""
    old = record()
    new = record_from_document(sample(change))
    found = concerned(difference(old, new), old, new, shapes_of_plan(old, scene))
    before, after = (tuple(step.texts() for step in plan_for(one, scene).steps) for one in (old, new))
    if before != after:
        assert found


def test_what_was_not_read_does_not_concern() -> None:
    old, new = record(), record_from_document(sample({"looks.width": said(1900)}))
    assert concerned(difference(old, new), old, new, {"ports[].place", "ports[]"}) == ()
    assert concerned(difference(old, new), old, new, {"looks.width"}) == ("looks.width",)


def test_an_item_that_comes_or_goes_concerns_whoever_looked_through_its_list() -> None:
    old = record()
    second = {"id": "b", "standard": said("type2")}
    new = record_from_document({**sample(), "ports": [*sample()["ports"], second]})
    found = concerned(difference(old, new), old, new, {"ports[]"})
    assert "ports[b].standard" in found
    assert concerned(difference(new, old), new, old, {"ports[]"})
    assert concerned(difference(old, new), old, new, {"motion.selector"}) == ()


def test_who_it_is_always_concerns() -> None:
    old = record()
    new = replace(old, identity=replace(old.identity, model="Other"))
    assert concerned(difference(old, new), old, new, ()) == ("identity.model",)
