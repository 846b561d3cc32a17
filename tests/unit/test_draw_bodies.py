"""The outlines: every body style has every side, within its size and alike on both sides."""

from itertools import product

import pytest

from catalog.domain.vocabulary import BODY
from catalog.draw.bodies import UNSAID, bodies, body_of
from catalog.draw.faces import LEFT, RIGHT, VIEWS
from catalog.draw.frame import frame_of, outlines, shapes_of
from catalog.draw.geometry import flattened
from catalog.draw.model import Circle, Line, Point

_PIECES = 4


def points_of(shapes: list[object]) -> list[Point]:
    made: list[Point] = []
    for shape in shapes:
        if isinstance(shape, Line):
            made += flattened(shape.steps)
        elif isinstance(shape, Circle) and shape.css != "halo":
            x, y = shape.centre
            made += [(x - shape.radius, y), (x + shape.radius, y), (x, y - shape.radius), (x, y + shape.radius)]
    return made


def test_every_body_style_of_the_vocabulary_has_an_outline_and_no_other() -> None:
    assert set(bodies()) == set(BODY.keys)
    assert UNSAID in BODY.keys
    assert body_of("") is bodies()[UNSAID]


@pytest.mark.parametrize(("key", "view"), list(product(BODY.keys, VIEWS)))
def test_a_body_has_every_side_and_keeps_to_its_size(key: str, view: str) -> None:
    body = bodies()[key]
    length, width, height = (part // 10 for part in body.size)
    frame = frame_of(body, view, 0, (length, width, height))
    shapes = list(shapes_of(frame))
    assert len(shapes) >= _PIECES
    across, up = frame.size
    # Mirrors stand out of the width, rails of the height: a twentieth.
    for x, y in points_of([*shapes]):
        assert -across // 20 - 2 <= x <= across + across // 20 + 2, (key, view)
        assert -up - up // 20 - 2 <= y <= up // 20 + 2, (key, view)
    spanned = points_of([*shapes])
    assert max(x for x, _ in spanned) - min(x for x, _ in spanned) >= across * 9 // 10
    assert max(y for _, y in spanned) - min(y for _, y in spanned) >= up * 9 // 10


@pytest.mark.parametrize("key", BODY.keys)
def test_the_right_flank_is_the_left_one_mirrored(key: str) -> None:
    body = bodies()[key]
    left = frame_of(body, LEFT, 0, (2000, 800, 700))
    right = frame_of(body, RIGHT, 0, (2000, 800, 700))
    for one, other in zip(outlines(left), outlines(right), strict=True):
        mirrored = sorted((2000 - x, y) for x, y in other)
        # Rounding half up is not the same from both ends: a tenth of a pixel.
        for (x, y), (a, b) in zip(sorted(one), mirrored, strict=True):
            assert abs(y - b) <= 700
            assert abs(x - a) <= 5


@pytest.mark.parametrize("key", BODY.keys)
def test_wheels_are_round_and_stand_on_the_ground(key: str) -> None:
    body = bodies()[key]
    frame = frame_of(body, LEFT, 0, (body.size[0] // 3, body.size[1] // 3, body.size[2] // 3))
    tyres = [shape for shape in shapes_of(frame) if isinstance(shape, Circle) and shape.css == "tyre"]
    assert len(tyres) == len(body.axles)
    for tyre in tyres:
        assert abs(tyre.centre[1] + tyre.radius) <= 1


def test_bodies_are_told_apart_by_their_flank() -> None:
    """At the same size no two outlines cover the same: a crew can tell them."""
    areas = {}
    for key, body in bodies().items():
        frame = frame_of(body, LEFT, 0, (2400, 900, 900))
        areas[key] = tuple(tuple(points) for points in outlines(frame))
    assert len(set(areas.values())) == len(areas)
