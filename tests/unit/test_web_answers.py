"""The search page's view of an answer: one scale, nothing hidden from the sum, one danger line."""

import json
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.resolve.answering import danger, rows
from catalog.resolve.answering.candidates import Candidate
from catalog.resolve.answering.chances import Chance
from catalog.resolve.answering.cue_view import CueView
from catalog.resolve.answering.danger import danger_line
from catalog.resolve.answering.group_views import ActionView, DifferenceView, GroupsView, GroupView, Member, SightView
from catalog.resolve.answering.scale import FIRST
from catalog.resolve.chance import frequency, word
from catalog.resolve.cue import Cue, Doubt, Span
from catalog.resolve.reading.words import DATA
from catalog.services.views import Answer, EditionView
from catalog.web.answers import Results, results
from catalog.web.posted import NOTHING

EDITION = EditionView(3, "0" * 64, datetime(2026, 3, 2, tzinfo=UTC), "A. Inventor", "first", 9)
EVERY = replace(NOTHING, views=frozenset({"all"}))


def chance(probability: float) -> Chance:
    return Chance(probability, word(probability), frequency(probability))


def answer(listed: list[float], unlisted: float, others: float = 0.0, *, count: int = 0, message: str = "") -> Answer:
    """Vehicles that look like no other, each a group of its own."""
    candidates = tuple(
        Candidate(f"C{place}", f"Vehicle {place}", "pickup, 2021", chance(p), "fits: body pickup")
        for place, p in enumerate(listed)
    )
    groups = GroupsView(tuple(group([p], first=place) for place, p in enumerate(listed)), (), others)
    made = Answer(EDITION, "pickup", (), (), candidates, others, count, chance(unlisted), "expert", message, "left")
    return replace(made, groups=groups)


def group(listed: list[float], first: int = 0, *, differs: str = "", alike: bool = False) -> GroupView:
    """Vehicles that look alike; a crew acts differently on each, or the same on all."""
    members = [
        Member(f"C{first + place}", f"Vehicle {first + place}", "pickup, 2021", chance(p))
        for place, p in enumerate(listed)
    ]
    actions = (
        [ActionView(tuple(members), chance(sum(listed)))]
        if alike
        else [ActionView((member,), member.chance) for member in members]
    )
    found = (DifferenceView("key", differs, 3, tuple(f"so on {m.code}" for m in members)),) if differs else ()
    sights = (SightView("roof", "What is the roof like?", "far", ("flat", "round"), 1.0),) if differs else ()
    return GroupView(tuple(actions), chance(sum(listed)), "", found, len(found), sights, "")


def test_look_alikes_are_one_row_with_what_a_crew_does_differently_on_them() -> None:
    made = replace(answer([], 0.3), groups=GroupsView((group([0.4, 0.3], differs="where to cut"),), (), 0.0))
    (row,) = results(made).rows
    assert (row.frequency, row.boxes.length) == ("about 7 in 10", 14)
    assert row.headline == f"{rows.ALIKE} where to cut"
    assert [(v.rank, v.code, v.frequency, v.differs) for v in row.vehicles] == [
        (1, "C0", "about 4 in 10", "so on C0"),
        (2, "C1", "about 3 in 10", "so on C1"),
    ]


def test_a_look_alike_too_unlikely_to_name_is_counted_and_named_once_all_are_asked_for() -> None:
    made = replace(answer([], 0.3), groups=GroupsView((group([0.69, 0.01], differs="where to cut"),), (), 0.0))
    (row,) = results(made).rows
    assert (len(row.vehicles), row.headline, row.less) == (1, "", rows.less_words(1))
    (row,) = results(made, EVERY).rows
    assert (len(row.vehicles), row.headline, row.less) == (2, f"{rows.ALIKE} where to cut", "")


def test_look_alikes_on_which_a_crew_acts_the_same_say_so() -> None:
    made = replace(answer([], 0.3), groups=GroupsView((group([0.4, 0.3], alike=True),), (), 0.0))
    assert results(made).rows[0].headline == rows.SAME


def drawn(shown: Results) -> list[tuple[int, int]]:
    rows = [row.boxes for row in shown.rows] + [shown.unlisted.boxes]
    rows += [shown.others.boxes] if shown.others else []
    return [(boxes.start, boxes.length) for boxes in rows]


def test_candidates_out_of_view_count_among_the_others() -> None:
    shown = results(answer([0.3, 0.2, 0.15, 0.1, 0.1], 0.1, 0.05, count=20))
    assert len(shown.rows) == FIRST
    assert shown.others is not None
    assert shown.others.title == "22 other vehicles together"
    assert shown.others.frequency == "about 3 in 10"
    assert len(results(answer([0.3, 0.2, 0.15, 0.1, 0.1], 0.1, 0.05, count=20), EVERY).rows) == 5


def test_not_in_this_catalogue_follows_the_vehicles_on_the_same_scale() -> None:
    shown = results(answer([0.71, 0.11, 0.05], 0.1, 0.03, count=20))
    assert drawn(shown) == [(0, 14), (14, 2), (16, 1), (17, 2), (19, 0)]


@given(st.lists(st.floats(0.001, 1), min_size=2, max_size=12), st.booleans())
def test_rows_never_overlap_and_leave_the_tenth_box_open(weights: list[float], show_all: bool) -> None:
    total = sum(weights)
    shares = sorted((weight / total for weight in weights), reverse=True)
    runs = drawn(results(answer(shares[1:], shares[0]), EVERY if show_all else NOTHING))
    edge = 0
    for start, length in runs:
        assert start == edge
        edge = start + length
    assert edge <= 19


def test_nothing_understood_lists_nothing() -> None:
    shown = results(answer([], 0.12, 0.88, count=9, message="Nothing said yet."))
    assert shown.rows == ()
    assert shown.status == "Nothing said yet."


def test_the_spoken_status_names_the_first_and_the_share_not_in_the_catalogue() -> None:
    status = results(answer([0.7, 0.1], 0.2)).status
    assert status == (
        "First of the possible vehicles: Vehicle 0, likely, about 7 in 10. Not in this catalogue: about 2 in 10."
    )


def scene(*values: str, denied: bool = False, doubt: Doubt = Doubt.FIRM) -> Cue:
    return Cue("scene", values, (Span(0, 1),), "x", denied, doubt)


@pytest.mark.parametrize(
    ("cues", "expected"),
    [
        ([], ""),
        ([scene("on_side")], ""),
        ([scene("smoke")], danger.FIRE),
        ([scene("vapour")], danger.VAPOUR),
        ([scene("hiss")], danger.SIGNS),
        ([scene("water")], danger.WATER),
        ([scene("vapour"), scene("fire")], danger.FIRE),
        ([scene("fire"), scene("water")], danger.FIRE + danger.AND_WATER),
        # Doubt about a danger is a danger; a denial is not.
        ([scene("fire", doubt=Doubt.GUESS)], danger.FIRE),
        ([scene("fire", denied=True)], ""),
        ([scene("fire", denied=True), scene("water")], danger.WATER),
    ],
)
def test_one_danger_line(cues: list[Cue], expected: str) -> None:
    assert danger_line(cues) == expected


@pytest.mark.parametrize(
    ("cues", "answered", "expected"),
    [
        ([scene("smoke")], {"fire": "no"}, ""),
        # Somebody who does not know takes nothing back.
        ([scene("smoke")], {"fire": "unknown"}, danger.FIRE),
        ([], {"fire": "yes"}, danger.FIRE),
        ([scene("water")], {"fire": "no"}, danger.WATER),
        ([scene("fire"), scene("vapour")], {"fire": "no"}, danger.VAPOUR),
    ],
)
def test_the_danger_line_follows_what_is_answered_of_the_scene(
    cues: list[Cue], answered: dict[str, str], expected: str
) -> None:
    assert danger_line(cues, answered) == expected


def test_the_readers_own_scene_words_reach_the_line() -> None:
    rows = json.loads((DATA / "phrases" / "scene.json").read_text("utf-8"))["rows"]
    said = {row["value"] for row in rows if row["attribute"] == "scene"}
    assert {value for value in said if danger_line([scene(value)])} == {
        "fire", "smoke", "jet", "vapour", "hiss", "pop", "odour", "water", "water_deep", "water_salt",
    }  # fmt: skip


def test_a_cue_view_without_spans_is_shown_without_a_leader() -> None:
    view = CueView(Cue("body", ("van",), (), "van"), "body van", True)
    made = answer([0.5], 0.5)
    shown = results(Answer(made.edition, "", (view,), (), made.candidates, 0.0, 0, made.unlisted, "expert", "", "left"))
    assert [m.value for m in shown.heard.meanings] == ["van"]
