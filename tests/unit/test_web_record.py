"""A record as its page shows it: nothing left out, nothing not stated offered as help."""

import re

import pytest
from hypothesis import given, settings

from catalog.domain.documents import record_from_document
from catalog.domain.facts import Fact, State, stated
from catalog.domain.record import Record, attribute_at, lines, list_at, list_paths
from catalog.domain.spec import TREE
from catalog.domain.spec.nodes import Role
from catalog.web import wording
from catalog.web.facts import FactView, fact_view
from catalog.web.first import FirstScreen, first_screen
from catalog.web.groups import Group, record_groups, template_groups
from catalog.web.record_view import ORDER
from tests.sample import REMOVE, place, said, sample
from tests.strategies import records

SRC = "OPH-204/2:9"
# What may never be said of a vehicle as a fact.
FORBIDDEN = re.compile(r"\b(safe|safely|dead|de-?energi[sz]ed|isolated|no risk)\b", re.IGNORECASE)


def built(**changes: object) -> Record:
    return record_from_document(sample({path.replace("__", "."): value for path, value in changes.items()}))


def rows(groups: dict[str, Group]) -> list[FactView]:
    return [row for group in groups.values() for block in group.blocks for row in block.rows]


@settings(max_examples=40)
@given(records())
def test_the_groups_leave_nothing_out_and_say_how_to_read_what_is_not_stated(record: Record) -> None:
    groups = record_groups(record, {})
    shown = rows(groups)
    assert {row.path for row in shown} == {line.path for line in lines(record)}
    for row in shown:
        fact = record.fact(row.path)
        assert row.state == fact.state
        if fact.state is State.NOT_STATED:
            assert row.text.startswith("not stated")
            assert bool(row.reading) == (attribute_at(row.path).role in (Role.HAZARD, Role.AID))
        else:
            assert row.claims
            assert all(claim.text for claim in row.claims)
    headed = {block.list_title: block for group in groups.values() for block in group.blocks}
    for path in list_paths():
        if not record.items.get(path):
            label = list_at(path).label
            assert headed[label[:1].upper() + label[1:]].empty


@settings(max_examples=40)
@given(records())
def test_the_first_screen_chocks_first_numbers_in_order_and_promises_nothing(record: Record) -> None:
    first = first_screen(record, {})
    assert first.motion[0].title in (wording.CHOCK, wording.CHOCK_CYCLE)
    numbers = [step.number for step in (*first.motion, *first.doors, *first.cutoff) if step.number]
    assert numbers == list(range(1, len(numbers) + 1))
    if first.port_step is not None:
        refuses = record.fact("motion.coupled.refuses_drive")
        assert (refuses.state, refuses.value) == (State.STATED, True)
        assert first.port_step > 1
        assert next(step for step in first.motion if step.port).shape == "ring"
    # A guide's free text is its own; the vocabulary and our wording are ours.
    said_by_guides = " ".join(str(value) for fact in record.facts.values() for value in fact.values())
    for line in words(first):
        assert not FORBIDDEN.search(line) or FORBIDDEN.search(said_by_guides)


def words(first: FirstScreen) -> list[str]:
    steps = (*first.motion, *first.doors, *first.cutoff)
    return [
        *(step.title for step in steps),
        *(line.text for step in steps for line in step.details),
        *(f"{zone.title} {zone.why}" for zone in first.zones),
    ]


def test_the_page_order_names_every_section_once() -> None:
    assert sorted(ORDER) == sorted(section.key for section in TREE)


def test_a_port_is_no_help_until_refusing_drive_is_stated() -> None:
    first = first_screen(built(), {})
    assert first.port_step is None
    assert first.motion[-1].title == "Plugging in: not stated: treat as still able to drive"
    assert first.motion[-1].number is None

    helps = first_screen(built(motion__coupled__refuses_drive=said(True)), {})
    assert helps.port_step == 3
    assert helps.motion[2].title == "Plug in: left rear quarter, mid height (CCS2)"

    refused = first_screen(built(motion__coupled__refuses_drive=said(False)), {})
    assert refused.port_step is None
    disputed = {"disputed": [said(True), said(False, "AB-1/1:2")]}
    assert first_screen(built(motion__coupled__refuses_drive=disputed), {}).port_step is None


def test_the_pyro_fuse_is_silent_only_when_it_does_nothing_to_the_plug() -> None:
    helps = {"motion__coupled__refuses_drive": said(True)}
    silent = first_screen(built(**helps), {}).motion[2].details
    assert [line.state for line in silent] == [State.NOT_STATED]
    assert "the plug may not be accepted; high voltage may be on" in silent[0].text
    none = first_screen(built(**helps, energy__pyro_fuse__fitted={"fitted": False, "src": [SRC]}), {})
    assert none.motion[2].details == ()
    fitted = {"energy__pyro_fuse__fitted": said(True), "energy__pyro_fuse__port_effect": said("plug_refused")}
    assert first_screen(built(**helps, **fitted), {}).motion[2].details[0].text == (
        "Pyro-fuse, once fired: the plug is refused"
    )


def test_a_combustion_vehicle_has_no_plug_step() -> None:
    record = built(identity__propulsion="combustion", ports=REMOVE)
    first = first_screen(record, {})
    assert not first.can_plug
    assert len(first.motion) == 2


def test_ways_to_cut_off_keep_their_order_and_say_their_wait() -> None:
    first = first_screen(built(), {})
    assert [step.title for step in first.cutoff] == ["Power off", "Low-voltage cut loop", "12 V negative"]
    waits = [line.text for step in first.cutoff for line in step.details if "Wait" in line.text]
    assert waits[0] == "Wait: not stated: treat as live"
    assert waits[1] == "Wait: 60 s"


def test_a_loop_whose_label_is_not_stated_is_not_cut_blindly() -> None:
    loop = first_screen(built(), {}).cutoff[1]
    assert any("do not cut what is not labelled" in line.text for line in loop.details)
    by_hand = first_screen(built(), {}).cutoff[0]
    assert not any(line.text.startswith(("Cuts", "Label")) for line in by_hand.details)


def test_no_way_to_cut_off_is_read_as_live() -> None:
    first = first_screen(built(cutoff=REMOVE), {})
    assert first.cutoff[0].details[0].text == "High voltage stays on; work as if live"
    assert first.cutoff[0].state == State.NOT_STATED


def test_doors_that_open_alike_are_one_step() -> None:
    doors = [
        {"id": "a", "name": said("left front"), "outside": said("pull twice")},
        {"id": "b", "name": said("right front"), "outside": said("pull twice")},
        {"id": "c", "name": said("left rear"), "inside": said("cord under the mat")},
    ]
    first = first_screen(built(access__doors=doors), {})
    assert [step.title for step in first.doors] == ["Left front and right front", "Left rear"]
    assert first.doors[0].details[1].text == "Inside: not stated: treat as none"
    silent = first_screen(built(access__doors=[{"id": "a", "name": said("rear")}]), {}).doors[0]
    assert (silent.number, silent.state) == (None, State.NOT_STATED)
    assert first_screen(built(), {}).doors[0].state == State.NOT_STATED


def test_blank_is_never_permission_to_cut() -> None:
    empty = first_screen(built(), {}).zones
    assert [(zone.fill, zone.title) for zone in empty] == [("dots", "None stated: strip trim and look")]
    zone = {"id": "a", "place": said(place("left", "front_quarter", "high")), "why": said("inflator")}
    push = {"id": "a", "place": said(place("left", "middle", "low"))}
    some = first_screen(built(structure__no_cut=[zone], structure__never_push=[push]), {}).zones
    assert [zone.fill for zone in some] == ["hatch", "lattice", "dots"]
    assert some[1].why == "Never push, pierce or lever"
    twin = {**zone, "id": "b", "place": said(place("right", "front_quarter", "high"))}
    other = {**zone, "id": "c", "place": said(place("right", "middle", "high"))}
    both = first_screen(built(structure__no_cut=[zone, twin, other]), {}).zones
    assert [zone.title for zone in both[:2]] == ["Left and right front quarter, high", "Right middle, high"]
    assert some[-1].title == wording.ELSEWHERE


@pytest.mark.parametrize("category", ["M1", "M3"])
def test_heavy_is_folded_only_where_it_cannot_apply_and_nothing_is_stated(category: str) -> None:
    groups = record_groups(built(identity__category=category), {})
    assert groups["heavy"].folded == (category == "M1")
    assert not groups["restraints"].folded
    spoken = record_groups(built(identity__category=category, heavy__air_brakes=said(True)), {})
    assert not spoken["heavy"].folded


def test_a_complete_list_says_so_with_its_source() -> None:
    record = built(complete={"ports": {"value": True, "src": [SRC]}})
    block = record_groups(record, {})["ports"].blocks[-1]
    assert [mark.short for mark in block.whole] == ["OPH-204/2, p. 9"]
    assert not block.open_list
    assert record_groups(built(), {})["ports"].blocks[-1].open_list


def test_every_side_of_a_dispute_is_shown_with_its_source_the_protective_first() -> None:
    attr = attribute_at("cutoff.methods[].wait")
    fact = Fact(State.DISPUTED, sides=(stated(60, SRC), stated(180, "AB-1/1:4")))
    view = fact_view("cutoff.methods[a].wait", attr, fact, {})
    assert [(claim.text, claim.sources[0].short) for claim in view.claims] == [
        ("3 min", "AB-1/1, p. 4"),
        ("60 s", "OPH-204/2, p. 9"),
    ]
    assert view.reading == "treat as live"


def test_not_stated_is_said_once() -> None:
    view = fact_view("restraints.wait", attribute_at("restraints.wait"), Fact(State.NOT_STATED), {})
    assert view.text == "not stated: treat as armed"


@settings(max_examples=20)
@given(records())
def test_the_order_of_the_template_leaves_nothing_out_either(record: Record) -> None:
    groups = template_groups(record, {})
    shown = rows({group.key: group for group in groups})
    assert sorted(row.path for row in shown) == sorted(line.path for line in lines(record))
    assert [group.title.split(" ", 1)[0] for group in groups] == [str(number) for number in range(1, 10)]
