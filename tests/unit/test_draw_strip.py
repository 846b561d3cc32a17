"""The walk-round strip over every demo record in every posture: what the picture says is what the record states."""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.places import END, LANDMARK, LEVEL, SIDE, Place, mirrored, zone_box
from catalog.domain.vocabulary import BODY
from catalog.draw import areas
from catalog.draw.bodies import body_of
from catalog.draw.discs import RADIUS
from catalog.draw.faces import STANCES, VIEW_WORDS, view_of, views_held
from catalog.draw.frame import frame_of, outlines
from catalog.draw.geometry import crosses, distance, is_inside
from catalog.draw.layout import WIDTHS
from catalog.draw.model import POSTURES, Disc, Drawn, Line, Numbered, Panel, Point, Strip, Zone
from catalog.draw.strip import proportions, strip
from catalog.draw.svg import escaped, px, svg, swatch
from catalog.draw.wording import BLANK, KINDS, LEGEND, SIDES, place_words, wrapped
from tests.draw_cases import cases

_MARK = 55  # marks nearer than this are drawn as one


@cache
def strips() -> Mapping[tuple[str, str], tuple[Drawn, Strip]]:
    """On a phone; in print where the number of the case is a multiple of five, so that every posture comes up."""
    made = {}
    for number, (code, posture, drawn) in enumerate(cases()):
        made[code, posture] = (drawn, strip(drawn, posture, 1 if number % 11 == 0 else 2))
    return made


def discs_of(made: Strip) -> list[Disc]:
    """Discs in the picture; what lies on the ground stands in words below."""
    return [shape for shape in made.shapes if isinstance(shape, Disc) and shape.marks]


def panel_of(made: Strip, view: str) -> Panel:
    return next(panel for panel in made.panels if panel.view == view)


def area_of(drawn: Drawn, panel: Panel) -> list[list[Point]]:
    body = body_of(drawn.body)
    left, top, right, bottom = panel.box
    wide, high = right - left, bottom - top
    across, up = (high, wide) if panel.turn % 2 else (wide, high)
    # Any size with the panel's proportions: the outline is told in permille.
    frame = frame_of(body, panel.view, panel.turn, (1, 1, 1))
    frame = type(frame)(body, panel.view, panel.turn, left, bottom, across, up)
    return [list(area) for area in outlines(frame)]


def test_there_are_all_demo_records_in_all_postures() -> None:
    assert len(cases()) == len({(code, posture) for code, posture, _ in cases()})
    assert len({code for code, _, _ in cases()}) > 90
    assert {posture for _, posture, _ in cases()} == set(POSTURES)


@pytest.mark.parametrize("posture", POSTURES)
def test_every_number_is_on_the_flank_its_place_states_and_inside_the_outline(posture: str) -> None:
    stance = STANCES[posture]
    for (code, said), (drawn, made) in strips().items():
        if said != posture:
            continue
        shown = Counter((disc.numbered.number, disc.numbered.shape, disc.view) for disc in discs_of(made))
        for each in drawn.numbered:
            view = view_of(each.place, stance)
            if each.wheel:
                held = set(views_held(each.place, stance))
                assert {v for n, _, v in shown if n == each.number} >= held, code
            elif view == stance.ground:
                assert each in made.out_of_reach, code
            else:
                assert shown[each.number, each.shape, view], (code, each)
        for disc in discs_of(made):
            outline = area_of(drawn, panel_of(made, disc.view))
            for mark in disc.marks:
                assert any(is_inside(mark, area) for area in outline), (code, disc)


def test_sides_are_the_vehicles_own_on_its_wheels() -> None:
    for (code, posture), (drawn, made) in strips().items():
        if posture != "wheels":
            continue
        told = {each.number: each.place for each in drawn.numbered}
        for disc in discs_of(made):
            places = [each.place for each in drawn.numbered if each.number == disc.numbered.number]
            if disc.view in ("left", "right"):
                assert any(place.side in (disc.view, "centre") for place in places), (code, told)
            else:
                wanted = {"front": ("front_face", "front_quarter"), "rear": ("rear_face", "rear_quarter")}[disc.view]
                assert any(place.end in wanted for place in places), code


def test_no_two_discs_overlap_and_all_are_in_the_picture() -> None:
    for key, (_, made) in strips().items():
        for one, other in combinations([each for each in made.shapes if isinstance(each, Disc)], 2):
            assert distance(one.centre, other.centre) >= 240, key  # WCAG 2.2, 2.5.8: 24 px apart
        for disc in discs_of(made):
            x, y = disc.centre
            assert RADIUS <= x <= made.width - RADIUS, key
            assert RADIUS <= y <= made.height - RADIUS, key


def test_no_disc_lies_on_a_vehicle() -> None:
    for key, (_, made) in strips().items():
        for disc in discs_of(made):
            x, y = disc.centre
            for panel in made.panels:
                left, top, right, bottom = panel.box
                near = max(left - x, x - right, 0), max(top - y, y - bottom, 0)
                assert distance((0, 0), near) >= RADIUS, (key, disc, panel)


def test_no_leaders_cross() -> None:
    for key, (_, made) in strips().items():
        drawn = [(disc.centre, mark, disc) for disc in discs_of(made) if not disc.numbered.wheel for mark in disc.marks]
        for (a, b, one), (c, d, other) in combinations(drawn, 2):
            if one is not other and distance(b, d) >= _MARK:
                assert not crosses(a, b, c, d), (key, one, other)


def test_mid_and_high_hang_above_low_below_on_its_wheels() -> None:
    for key, (drawn, made) in strips().items():
        if key[1] != "wheels":
            continue
        for disc in discs_of(made):
            if disc.numbered.wheel:
                continue
            bottom = panel_of(made, disc.view).box[3]
            levels = {
                each.place.level
                for each in drawn.numbered
                if each.number == disc.numbered.number and view_of(each.place, STANCES["wheels"]) == disc.view
            }
            if levels <= {"mid", "high", "roof"}:
                assert disc.centre[1] < bottom, (key, disc)
            elif levels == {"under"}:
                assert disc.centre[1] > bottom, (key, disc)


@pytest.mark.parametrize(("down", "up"), [("left_down", "right_down"), ("right_down", "left_down")])
def test_a_mirrored_vehicle_on_its_other_side_is_the_mirrored_picture(down: str, up: str) -> None:
    swap = {"left": "right", "right": "left"}
    for code, posture, drawn in cases()[::7]:
        if posture != "wheels":
            continue
        # A place without a side is drawn where it is first met, which differs: sides only.
        sided = Drawn(
            drawn.body, drawn.length, drawn.width, drawn.height,
            tuple(each for each in drawn.numbered if each.place.side != "centre" and not each.wheel),
        )  # fmt: skip
        turned = Drawn(
            sided.body, sided.length, sided.width, sided.height,
            tuple(Numbered(e.number, e.shape, mirrored(e.place), e.label, e.zone) for e in sided.numbered),
        )  # fmt: skip
        one, other = strip(sided, down), strip(turned, up)
        seen = {(d.numbered.number, swap.get(d.view, d.view)): d for d in discs_of(other)}
        assert {(d.numbered.number, d.view) for d in discs_of(one)} == set(seen), code
        for disc in discs_of(one):
            twin = seen[disc.numbered.number, disc.view]
            box, mirror = panel_of(one, disc.view).box, panel_of(other, twin.view).box
            for mark in disc.marks:
                # A point moved into the outline moves in steps: three pixels.
                assert any(
                    abs((mark[0] - box[0]) - (mirror[2] - x)) <= 30 and abs((box[3] - mark[1]) - (mirror[3] - y)) <= 30
                    for x, y in twin.marks
                ), (code, disc, twin)


def test_turns_are_those_of_a_vehicle_that_rolls() -> None:
    """One point, worked out by hand for each posture: the left front lamp, seen from the front."""
    lamp = Numbered(1, "solid", Place("left", "front_face", "mid", None, (20, 150, 480)), "lamp")
    drawn = Drawn("saloon", 4700, 1800, 1450, (lamp,))
    for posture, right, low in (("wheels", True, False), ("left_down", False, True), ("right_down", True, False)):
        made = strip(drawn, posture)
        disc = discs_of(made)[0]
        left, top, far, bottom = panel_of(made, "front").box
        x, y = disc.marks[0]
        if posture == "wheels":
            assert (x > (left + far) // 2) == right  # the vehicle's left is on the looker's right
        else:
            assert (y > (top + bottom) // 2) == low  # its left is below, or on top
    upside = strip(drawn, "roof")
    left, _, far, _ = panel_of(upside, "front").box
    assert discs_of(upside)[0].marks[0][0] < (left + far) // 2


def test_what_is_on_the_ground_is_words_with_struck_discs() -> None:
    for key, (_, made) in strips().items():
        stance = STANCES[key[1]]
        assert made.on_ground == (VIEW_WORDS[stance.ground] if stance.ground else "")
        below = [shape for shape in made.shapes if isinstance(shape, Disc) and not shape.marks]
        assert [d.numbered.number for d in below] == [each.number for each in made.out_of_reach], key
        assert all(disc.numbered.shape == "struck" for disc in below), key
        if stance.ground:
            assert stance.ground not in {panel.view for panel in made.panels}
            assert f"On the ground: {made.on_ground}." in made.twin
        else:
            assert not made.out_of_reach


def test_a_posture_that_is_not_said_is_drawn_on_its_wheels_and_says_so() -> None:
    drawn = strips()["26F-RWN", "wheels"][0]
    unsaid, stated = strip(drawn, ""), strip(drawn, "wheels")
    assert unsaid.panels == stated.panels
    assert "Posture not said: drawn on its wheels." in unsaid.twin
    assert "not said" not in " ".join(stated.twin)
    assert "Posture not said" in svg(unsaid, "a")


def test_the_twin_has_the_facts_of_the_picture_and_no_others() -> None:
    for key, (drawn, made) in strips().items():
        stance = STANCES[key[1]]
        text = "\n".join(made.twin)
        assert made.twin[-2:] == (BLANK, SIDES)
        for each in drawn.numbered:
            if each.wheel and stance.ground:
                assert f": {each.number}" in text
                continue
            lines = [line for line in made.twin if f"{each.number}" in line and each.label in line]
            assert any(place_words(each.place) in line for line in lines), (key, each)
            view = views_held(each.place, stance)[0] if each.wheel else view_of(each.place, stance)
            named = VIEW_WORDS[view] if view != stance.ground else "on the ground"
            assert any(line.lower().startswith(named) for line in lines), (key, each)
        for zone in drawn.zones:
            seen = [view for view in areas.views_of(zone, stance) if view in {panel.view for panel in made.panels}]
            lines = [line for line in made.twin if KINDS[zone.kind] in line and place_words(zone.place) in line]
            assert len(lines) >= max(1, len(seen)), (key, zone)


def test_every_zone_is_drawn_on_each_side_where_it_is() -> None:
    for key, (drawn, made) in strips().items():
        stance = STANCES[key[1]]
        views = {panel.view for panel in made.panels}
        wanted = Counter(
            areas.FILL[zone.kind] for zone in drawn.zones for view in areas.views_of(zone, stance) if view in views
        )
        shown = Counter(
            shape.fill for shape in made.shapes if isinstance(shape, Line) and shape.css in ("band", "zone")
        )
        for fill in ("cut", "lattice", "dots"):
            assert shown[fill] == wanted[fill], (key, fill)


def test_zones_are_thick_enough_to_be_seen() -> None:
    for key, (_, made) in strips().items():
        for shape in made.shapes:
            if isinstance(shape, Line) and shape.css == "band":
                assert shape.wide >= (80 if shape.fill == "lattice" else 50), key
            elif isinstance(shape, Line) and shape.css == "zone":
                ends = [told[-2:] for letter, told in shape.steps if letter != "Z"]
                for axis in (0, 1):
                    assert max(end[axis] for end in ends) - min(end[axis] for end in ends) >= 78, (key, shape)


def test_every_fill_in_the_picture_is_in_the_legend_and_blank_always() -> None:
    for key, (drawn, made) in strips().items():
        named = {fill for fill, _ in made.legend}
        assert "blank" in named
        assert {areas.FILL[zone.kind] or zone.kind for zone in drawn.zones} <= named, key


def test_fills_differ_by_pattern_and_no_shape_carries_a_colour() -> None:
    _, made = strips()["26F-RWN", "wheels"]
    root = ElementTree.fromstring(svg(made, "a"))
    patterns = {}
    for each in root.iter("{http://www.w3.org/2000/svg}pattern"):
        patterns[each.get("id")] = [ElementTree.tostring(child) for child in each][1:]
    assert set(patterns) == {"a-cut", "a-lattice", "a-dots"}
    assert len({str(inner) for inner in patterns.values()}) == 3
    for each in root.iter():
        assert each.get("style") is None
        for name in ("fill", "stroke"):
            assert (each.get(name) or "url(#").startswith("url(#"), each.attrib
    assert set(areas.FILL.values()) <= {"cut", "lattice", "dots", ""}
    assert set(LEGEND) == {"cut", "lattice", "dots", "blank", "strong", "battery12"}
    assert set(areas.FILL) == set(KINDS)


def test_the_svg_is_well_formed_titled_and_its_ids_are_its_own() -> None:
    for number, (key, (_, made)) in enumerate(strips().items()):
        if number % 6:
            continue
        text = svg(made, f"p{number}")
        root = ElementTree.fromstring(text)
        assert root.get("role") == "img", key
        ids = [each.get("id") for each in root.iter() if each.get("id")]
        assert len(ids) == len(set(ids))
        assert all(str(each).startswith(f"p{number}-") for each in ids)
        assert made.title in text or escaped(made.title) in text
        assert "NaN" not in text


def test_rows_keep_to_their_width() -> None:
    for key, (_, made) in strips().items():
        assert made.width in WIDTHS.values()
        for panel in made.panels:
            left, top, right, bottom = panel.box
            assert 0 <= left < right <= made.width, key
            assert 0 <= top < bottom <= made.height, key


def test_all_sides_have_one_scale() -> None:
    for key, (drawn, made) in strips().items():
        lengths = set()
        for panel in made.panels:
            if panel.view in ("left", "right", "roof", "under"):
                lengths.add(panel.box[2] - panel.box[0])
        assert len(lengths) == 1, key
        if drawn.length and drawn.height:
            flank = next(panel for panel in made.panels if panel.view in ("left", "right"))
            wide, high = flank.box[2] - flank.box[0], flank.box[3] - flank.box[1]
            assert abs(wide * drawn.height - high * drawn.length) <= 3 * drawn.length, key


def test_a_missing_size_says_so_and_is_drawn_typical() -> None:
    made = strip(Drawn("pickup", 0, 0, 0))
    assert "Size not stated: drawn as typical" in made.twin[0]
    assert "Height not stated" in strip(Drawn("pickup", 5000, 1900, 0)).twin[0]
    assert "body style not stated, drawn as a hatchback" in strip(Drawn("", 0, 0, 0)).twin[0].lower()


def test_a_number_at_several_places_of_a_flank_has_one_disc() -> None:
    doors = tuple(
        Numbered(4, "solid", Place("left", end, "mid", None, at), "doors")
        for end, at in (("middle", (420, 10, 500)), ("rear_quarter", (660, 10, 500)))
    )
    made = discs_of(strip(Drawn("saloon", 0, 0, 0, doors), "wheels"))
    assert len(made) == 1
    assert len(made[0].marks) == 2


def test_silence_is_drawn_as_dots_where_it_is_about() -> None:
    silent = Zone(Place("left", "middle", "mid"), "not_stated", "Do not cut here: none stated")
    made = strip(Drawn("suv", 0, 0, 0, (), (silent,)), "wheels")
    dotted = [shape for shape in made.shapes if isinstance(shape, Line) and shape.fill == "dots"]
    assert len(dotted) == 1
    assert any(line.startswith("Left flank: not stated") for line in made.twin)
    assert ("dots", LEGEND["dots"]) in made.legend


def test_pixels_are_written_without_fractions_of_a_machine() -> None:
    assert [px(each) for each in (0, 5, 10, 123, -5, -10, -123)] == ["0", "0.5", "1", "12.3", "-0.5", "-1", "-12.3"]


def test_labels_are_wrapped_and_none_of_their_words_lost() -> None:
    text = "Do not count on the charge port while the vehicle lies on it"
    lines = wrapped(text, 24)
    assert " ".join(lines) == text
    assert all(len(line) <= 24 for line in lines)
    assert wrapped("", 10) == ("",)


def test_a_label_is_escaped() -> None:
    each = Numbered(1, "solid", Place("left", "middle", "mid"), 'cut "A" & <B>')
    text = svg(strip(Drawn("van", 0, 0, 0, (each,))), "a")
    ElementTree.fromstring(text)
    assert "&lt;B&gt;" in text


@pytest.mark.parametrize("fill", LEGEND)
def test_every_key_of_the_legend_has_a_sample(fill: str) -> None:
    ElementTree.fromstring(swatch(fill, "w"))


def test_what_is_not_stated_follows_half_way_what_is() -> None:
    assert proportions((0, 0, 0), (12000, 2500, 3200)) == (12000, 2500, 3200)
    assert proportions((6000, 0, 0), (12000, 2500, 3200)) == (6000, 1875, 2400)
    assert proportions((6000, 2100, 2700), (12000, 2500, 3200)) == (6000, 2100, 2700)


def test_every_disc_has_a_target_of_its_number() -> None:
    for key in (("26F-RWN", "wheels"), ("26F-RWN", "left_down")):
        root = ElementTree.fromstring(svg(strips()[key][1], "a"))
        hits = [each.get("data-number") for each in root.iter() if each.get("class") == "hit"]
        discs = [each.get("data-number") for each in root.iter() if (each.get("class") or "").startswith("disc ")]
        assert hits == discs


@pytest.mark.parametrize(
    ("place", "posture", "view"),
    [
        (Place("right", "front_face", "mid", "in_dash"), "wheels", "right"),
        (Place("centre", "front_quarter", "mid", "in_dash"), "wheels", "left"),
        (Place("centre", "front_quarter", "mid", "under_bonnet"), "wheels", "front"),
        (Place("left", "middle", "low", "under_seat"), "wheels", "left"),
        (Place("left", "middle", "low", "under_seat"), "left_down", "roof"),
        (Place("left", "front_quarter", "low", "in_wheel_arch"), "left_down", "under"),
        (Place("left", "front_quarter", "mid", "in_lamp"), "left_down", "front"),
        (Place("left", "rear_quarter", "mid"), "left_down", "left"),
        (Place("right", "rear_quarter", "mid"), "left_down", "right"),
        (Place("centre", "middle", "roof"), "roof", "roof"),
        (Place("left", "middle", "mid"), "roof", "left"),
        (Place("centre", "middle", "under"), "roof", "under"),
    ],
)
def test_a_place_is_drawn_where_a_crew_comes_at_it(place: Place, posture: str, view: str) -> None:
    assert view_of(place, STANCES[posture]) == view


def test_a_sides_numbers_are_read_in_their_order() -> None:
    for key, (_, made) in strips().items():
        for panel in made.panels:
            name = VIEW_WORDS[panel.view].capitalize()
            told = [line.removeprefix(f"{name}: ") for line in made.twin if line.startswith(f"{name}: ")]
            numbers = [int(found[0]) for line in told if (found := re.findall(r"^\d+(?=[:,])", line))]
            assert numbers == sorted(numbers), key


_places = st.builds(
    Place,
    st.sampled_from(SIDE.keys),
    st.sampled_from(END.keys),
    st.sampled_from(LEVEL.keys),
    st.sampled_from((None, *LANDMARK.keys)),
).flatmap(lambda place: st.one_of(st.just(place), _with_point(place)))


def _with_point(place: Place) -> st.SearchStrategy[Place]:
    at = st.tuples(*(st.integers(low, high) for low, high in zone_box(place)))
    return at.map(lambda point: replace(place, at=(point[0], point[1], point[2])))


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(BODY.keys),
    st.lists(st.tuples(_places, st.sampled_from(("solid", "ring", "struck"))), min_size=1, max_size=12),
    st.sampled_from(POSTURES),
    st.sampled_from((1, 2)),
)
def test_whatever_the_places_discs_keep_apart_and_marks_inside(
    body: str, told: list[tuple[Place, str]], posture: str, rows: int
) -> None:
    numbered = tuple(Numbered(at, shape, place, f"step {at}") for at, (place, shape) in enumerate(told, 1))
    drawn = Drawn(body, 0, 0, 0, numbered)
    made = strip(drawn, posture, rows)
    hung = discs_of(made)
    assert all(distance(one.centre, other.centre) >= 240 for one, other in combinations(hung, 2))
    leaders = [(disc.centre, mark) for disc in hung for mark in disc.marks]
    for (a, b), (c, d) in combinations(leaders, 2):
        assert a == c or distance(b, d) < _MARK or not crosses(a, b, c, d)
    for disc in hung:
        outline = area_of(drawn, panel_of(made, disc.view))
        assert all(any(is_inside(mark, area) for area in outline) for mark in disc.marks)
    shown = {disc.numbered.number for disc in hung} | {each.number for each in made.out_of_reach}
    assert shown == {each.number for each in numbered}
