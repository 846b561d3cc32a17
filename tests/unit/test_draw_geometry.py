"""Whole-number geometry of the drawings, against arithmetic that is done another way."""

import math
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from catalog.draw.areas import within
from catalog.draw.discs import PITCH, spread
from catalog.draw.geometry import (
    crosses,
    distance,
    flattened,
    is_inside,
    longer,
    off_line,
    part,
    root,
    rounded,
    towards,
)

_near = st.integers(-8000, 8000)
_point = st.tuples(_near, _near)


@given(st.integers(-10, 300_000_000))
def test_the_root_is_the_whole_root(number: int) -> None:
    assert root(number) == (math.isqrt(number) if number > 0 else 0)


@given(_near, _near, st.integers(1, 9000))
def test_a_part_is_rounded_half_up(number: int, of: int, whole: int) -> None:
    assert part(number, of, whole) == math.floor(number * of / whole + 0.5)


@given(_point, _point, st.integers(0, 500))
def test_towards_and_longer_keep_to_the_line(a: tuple[int, int], b: tuple[int, int], far: int) -> None:
    apart = distance(a, b)
    if apart >= max(far, 1):
        assert abs(distance(a, towards(a, b, far)) - far) <= 2
        assert abs(distance(a, longer(a, b, far)) - apart - far) <= 3


@given(st.integers(-200, 1200), st.integers(-200, 1200))
def test_inside_a_box_is_what_comparing_says(x: int, y: int) -> None:
    box = ((0, 0), (1000, 0), (1000, 1000), (0, 1000))
    if x not in (0, 1000) and y not in (0, 1000):
        assert is_inside((x, y), box) == (0 < x < 1000 and 0 < y < 1000)


def test_inside_counts_a_notch_as_outside() -> None:
    notched = ((0, 0), (300, 0), (300, 300), (200, 300), (200, 100), (100, 100), (100, 300), (0, 300))
    assert is_inside((50, 250), notched)
    assert not is_inside((150, 250), notched)
    assert is_inside((150, 50), notched)


def test_lines_that_cross_touch_or_keep_apart() -> None:
    assert crosses((0, 0), (10, 10), (0, 10), (10, 0))
    assert crosses((0, 0), (10, 10), (10, 10), (20, 0))
    assert not crosses((0, 0), (10, 10), (0, 1), (9, 11))
    assert not crosses((0, 0), (10, 0), (11, 0), (20, 0))
    assert crosses((0, 0), (10, 0), (9, 0), (20, 0))


@given(_point, _point, _point)
def test_how_far_a_point_is_off_a_line(point: tuple[int, int], a: tuple[int, int], b: tuple[int, int]) -> None:
    steps = [(a[0] + (b[0] - a[0]) * at / 400, a[1] + (b[1] - a[1]) * at / 400) for at in range(401)]
    least = min(math.dist(point, each) for each in steps)
    assert abs(off_line(point, a, b) - least) <= 2 + math.dist(a, b) / 400


@given(st.lists(st.integers(0, 3300), min_size=1, max_size=9))
def test_discs_are_spread_in_order_and_apart(wanted: list[int]) -> None:
    placed = spread(sorted(wanted), 110, 3250)
    assert all(b - a >= PITCH for a, b in pairwise(placed))
    assert placed[0] >= 110
    assert placed[-1] <= 3250


def test_corners_are_rounded_no_further_than_half_an_edge() -> None:
    path = rounded([(0, 0, 900), (100, 0, 900), (100, 100, 0), (0, 100, 0)], closed=True)
    assert path[0] == ("M", (0, 50))
    assert path[1] == ("Q", (0, 0, 50, 0))
    assert path[-1] == ("Z", ())
    assert all(0 <= x <= 100 and 0 <= y <= 100 for x, y in flattened(path))


def test_a_line_is_cut_at_its_bounds() -> None:
    line = ((0, 100), (100, 200), (300, 200))
    assert within(line, 0, (50, 200)) == ((50, 150), (100, 200), (200, 200))
    assert within(line, 1, (0, 150)) == ((0, 100), (50, 150))
    assert within(line, 0, (700, 900)) == line
