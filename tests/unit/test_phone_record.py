"""A record's screens on the phone: nothing stated is lost, nothing not stated reads as none, four answers always."""

from collections.abc import Iterator

import pytest

from catalog.device.phone.drawn import drawn_of, places_of
from catalog.device.phone.facts import facts_of, source_words
from catalog.device.phone.model import Meta, RecordView, Ticked
from catalog.device.phone.record import each_for, record_view
from catalog.device.phone.slip import slip_head, slip_of
from catalog.domain.facts import State
from catalog.domain.places import Place
from catalog.domain.record import Record, lines, list_at, list_paths
from catalog.plan.claims import claims
from catalog.plan.scene import UNKNOWN, Scene
from catalog.plan.steps import plan_for
from tests.plan_cases import demo_records

RECORDS = demo_records()
META = Meta("26F-RWN", 14, "edition 14, 2026-03-02", 3, demo=True)
SCENES = (
    UNKNOWN,
    UNKNOWN.having(fire="no", water="no"),
    UNKNOWN.having(fire="yes"),
    UNKNOWN.having(fire="no", water="no", left_down="yes"),
    UNKNOWN.having(water="yes", trapped="yes", converted="yes"),
)
PROTECTIVE = ("not stated", "none stated", "strip", "live", "count on", "two")
PORT_HAZARDS = ("fire", "water", "port_damaged", "charger_attached", "vapour", "orange_cable", "leak")


_MADE: dict[tuple[int, int], RecordView] = {}


def views(*scenes: Scene) -> Iterator[tuple[Record | None, RecordView, Scene]]:
    """Every record, and none, where nothing is said; a third of them in the other SCENES. Each made once."""
    for scene in scenes:
        for at, record in enumerate((None, *RECORDS.values())):
            if scene is not UNKNOWN and at % 3:
                continue
            key = (SCENES.index(scene), at)
            if key not in _MADE:
                _MADE[key] = record_view(record, META, scene, {})
            yield record, _MADE[key], scene


def test_all_four_answers_have_content_or_their_protective_reading() -> None:
    for _, view, _ in views(*SCENES):
        assert [answer.key for answer in view.answers] == ["motion", "doors", "cutoff", "no_cut"]
        for answer in view.answers:
            assert 1 <= len(answer.rows) <= 3, (view.title, answer.title)
            for row in answer.rows:
                assert row.title or row.lines
                assert all(line.text for line in row.lines)
            assert min(row.rank for row in answer.rows) == 0


def test_every_row_of_an_answer_is_a_step_with_its_number_or_says_that_nothing_is_stated() -> None:
    for _, view, _ in views(*SCENES):
        steps = {step.key: step for phase in view.phases for step in phase.steps}
        for row in (row for answer in view.answers for row in answer.rows):
            if row.number:
                assert steps[row.key].number == row.number
            else:
                assert row.fill or row.lines[0].state == State.NOT_STATED


def test_what_is_not_stated_never_reads_as_none() -> None:
    for record, view, _ in views(*SCENES):
        if record is None:
            continue
        for row in (row for answer in view.answers for row in answer.rows):
            for line in row.lines:
                if line.state == State.NOT_STATED:
                    said = line.text.lower()
                    assert any(
                        word in said for word in ("not stated", "none stated", "strip", "live", "count on", "two")
                    )
        zones = view.answers[3]
        if not record.items.get("structure.no_cut"):
            assert zones.rows[0].fill == "dots"
        else:
            assert zones.rows[-1].fill == "dots", "blank is no permission"


def test_the_steps_say_every_line_of_the_plan() -> None:
    for record, view, scene in views(*SCENES[:3]):
        plan = plan_for(record, scene)
        told = [step for phase in view.phases for step in phase.steps]
        assert [step.key for step in told] == [s.key for key, _ in plan.phases for s in plan.steps if s.phase == key]
        for step in told:
            ours = plan.steps[step.number - 1]
            assert ours.key == step.key
            lines = [(line.text, line.state) for part in step.parts for line in part.lines]
            assert lines == [(line.text, line.state) for part in step.parts for line in ours.parts[part.key]]
            assert {part.key for part in step.parts} == set(ours.parts)
            assert bool(step.only_if) == bool(ours.only_if)


@pytest.mark.parametrize("key", PORT_HAZARDS)
def test_the_port_is_left_alone_on_any_yes(key: str) -> None:
    for record in list(RECORDS.values())[::4]:
        view = record_view(record, META, UNKNOWN.having(**{key: "yes"}), {})
        assert view.port.kind == "leave"
        assert view.port.text == "LEAVE THE PORT ALONE"
        assert not any(row.shape in ("solid", "ring") for row in view.answers[0].rows if row.key.startswith("plug"))


def test_the_port_is_offered_only_after_fire_and_water_are_answered_no() -> None:
    offered = 0
    for _, view, _ in views(UNKNOWN):
        assert view.port.kind in ("only_if", "none")
    for record in list(RECORDS.values())[::3]:
        for key in ("fire", "water"):
            port = record_view(record, META, UNKNOWN.having(**{key: "no"}), {}).port
            assert port.kind in ("only_if", "none")
    for _, view, _ in views(SCENES[1]):
        if view.port.kind == "step":
            offered += 1
            assert view.port.text == f"step {view.port.number}, if not crushed, burnt or wet inside"
    assert offered > 8


def test_nothing_is_claimed_as_a_fact() -> None:
    for _, view, _ in views(*SCENES):
        said = [view.port.text, view.danger, *(cell.ask for cell in view.cells)]
        said += [
            text for answer in view.answers for row in answer.rows for text in (row.title, *(x.text for x in row.lines))
        ]
        assert [found for text in said for found in claims(text)] == []


def test_cautions_edition_and_demo_stand_on_every_view() -> None:
    for _, view, _ in views(UNKNOWN):
        assert view.demo
        assert view.short == "DEMO; data 14; confirm badge; vehicle's left"
        assert view.edition
        assert view.cautions


def test_the_badge_is_asked_for_or_the_vehicle_by_name() -> None:
    for record, view, _ in views(UNKNOWN):
        assert (view.badge is None) == (record is None)
        if view.badge:
            assert view.badge.ask
            assert view.badge.reads.endswith("?")


def test_a_tick_starts_the_clock_of_its_wait() -> None:
    view = record_view(RECORDS["26F-RWN"], META, UNKNOWN, {})
    assert view.clocks == ()
    key = next(step.key for phase in view.phases for step in phase.steps if step.id == "cut_loop")
    view = record_view(RECORDS["26F-RWN"], META, UNKNOWN, {key: Ticked("done", 1000, "02:55")})
    (clock,) = view.clocks
    assert (clock.key, clock.since, clock.seconds) == (key, 1000, 240)
    assert "Casualty care" in clock.meanwhile
    assert record_view(RECORDS["26F-RWN"], META, UNKNOWN, {key: Ticked("cannot", 1000, "02:55")}).clocks == ()


def test_the_wait_for_airbags_starts_with_the_last_source() -> None:
    record = RECORDS["26F-RWN"]
    plan = plan_for(record, UNKNOWN)
    sources = [step.key for step in plan.steps if step.id in ("cut_low_voltage", "cut_sources")]
    assert len(sources) == 3
    ticks = {key: Ticked("done", 1000 * at, "") for at, key in enumerate(sources, 1)}
    (clock,) = [each for each in record_view(record, META, UNKNOWN, ticks).clocks if each.key == "restraints"]
    assert (clock.since, clock.seconds) == (3000, 180)
    del ticks[sources[0]]
    assert all(each.key != "restraints" for each in record_view(record, META, UNKNOWN, ticks).clocks)


def test_every_place_of_a_step_is_drawn_with_its_number() -> None:
    for record, _, scene in views(UNKNOWN, SCENES[3]):
        plan = plan_for(record, scene)
        drawn = drawn_of(record, plan, scene)
        numbers = {each.number for each in drawn.numbered}
        subject = each_for(record, scene).subject
        for number, step in enumerate(plan.steps, 1):
            places = places_of(step, subject)
            if places and step.id != "cut_sources":
                assert number in numbers, step.key
                assert {each.place for each in drawn.numbered if each.number == number} <= set(places)
        assert [each.number for each in drawn.numbered] == sorted(each.number for each in drawn.numbered)


def test_every_stated_zone_is_drawn_and_silence_is_marked() -> None:
    lists = ("structure.no_cut", "structure.never_push", "energy.packs", "energy.cables", "restraints.inflators")
    for record in RECORDS.values():
        drawn = drawn_of(record, plan_for(record, UNKNOWN), UNKNOWN)
        for path in lists:
            ids = record.items.get(path, ())
            for item in ids:
                places = [value for value in record.fact(f"{path}[{item}].place").values() if isinstance(value, Place)]
                assert all(any(zone.place == place for zone in drawn.zones) for place in places), (path, item)
            if not ids and path not in record.complete:
                assert any(zone.kind == "not_stated" for zone in drawn.zones), path


def test_on_its_left_side_the_left_port_and_doors_are_struck() -> None:
    scene = UNKNOWN.having(fire="no", water="no", left_down="yes")
    record = RECORDS["26F-RWN"]
    drawn = drawn_of(record, plan_for(record, scene), scene)
    plan = plan_for(record, scene)
    port = next(number for number, step in enumerate(plan.steps, 1) if step.id == "plug")
    assert [each.shape for each in drawn.numbered if each.number == port] == ["struck"]
    assert record_view(record, META, scene, {}).port.text == "under the vehicle, do not plan on it"


def test_every_fact_of_every_record_is_told_with_its_state_and_sources() -> None:
    for code, record in RECORDS.items():
        told = {fact.path: fact for group in facts_of(record, META).groups for fact in group.facts}
        for line in lines(record):
            fact = told.pop(line.path)
            assert fact.state == line.fact.state
            if line.fact.state is State.NOT_STATED:
                assert fact.sides == ()
                assert fact.state_words == "not stated"
                assert bool(fact.reading) == bool(line.attr.readings), (code, line.path)
            else:
                assert len(fact.sides) == len(line.fact.claims())
                assert all(side.text for side in fact.sides)
                assert sum(len(side.sources) for side in fact.sides) == sum(len(c.src) for c in line.fact.claims())
        assert told == {}


def test_a_list_without_items_says_how_that_is_read() -> None:
    for record in RECORDS.values():
        empty = {text for group in facts_of(record, META).groups for text in group.empty}
        silent = [path for path in list_paths() if not record.items.get(path)]
        assert len(empty) == len(silent)
        for path in silent:
            if path not in record.complete:
                assert any(text.endswith(list_at(path).empty) for text in empty), path


def test_the_slip_says_what_was_ticked_and_what_nobody_said() -> None:
    ticks = {"chock": Ticked("done", 1, "02:55"), "park": Ticked("cannot", 2, "02:56")}
    for record in (None, RECORDS["26F-RWN"]):
        made = slip_of(record, META, UNKNOWN, ticks, {"cuts": "none yet"})
        steps = {line.key: line for line in made[-1].lines}
        assert steps["chock"].text == "done, 02:55"
        assert steps["park"].text == "could not be done, 02:56"
        assert {line.text for line in steps.values()} == {"done, 02:55", "could not be done, 02:56", "not said"}
        assert "none yet" in [line.text for section in made for line in section.lines]
        assert not any(section.title == "Vehicle A" for section in made)
    assert slip_head(META) == ("DEMO - INVENTED VEHICLES, NOT FOR OPERATIONS", "Record 26F-RWN, edition 14, 2026-03-02")


def test_source_references_are_read_out() -> None:
    assert source_words("OPH-204/2:9") == "OPH-204 issue 2, p. 9"
    assert source_words("OPH-204/2") == "OPH-204 issue 2"
