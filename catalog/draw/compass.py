"""The compass: the vehicle from above, nose up, the seen side heavy; large, with the way round."""

from collections.abc import Iterator

from catalog.draw.geometry import rounded
from catalog.draw.model import Circle, Line, Shape

_SIDES = (
    ((0, 0), (90, 0)),
    ((0, 20), (0, 150)),
    ((0, 150), (90, 150)),
    ((90, 20), (90, 150)),
)


def small(left: int, top: int, at: int) -> Iterator[Shape]:
    """Nine by fifteen pixels. at: place in walking order from the nose, to one's right; 4 is seen from above."""
    css = "compass-top" if at == 4 else "compass"
    yield _outline(css, left, top, 90, 150)
    if at != 4:
        (x1, y1), (x2, y2) = _SIDES[at]
        yield Line("compass-seen", (("M", (left + x1, top + y1)), ("L", (left + x2, top + y2))))


def large(left: int, top: int, lies: bool) -> Iterator[Shape]:
    """28 by 40 pixels: the way round starts at the nose and goes to one's right, so first to the vehicle's left."""
    yield _outline("compass-top" if lies else "compass", left + 80, top + 70, 140, 260)
    way = (
        (left + 150, top + 10, 0), (left + 10, top + 10, 130), (left + 10, top + 390, 130),
        (left + 290, top + 390, 130), (left + 290, top + 60, 0),
    )  # fmt: skip
    yield Line("compass-way", rounded(way, closed=False))
    yield Circle("compass-start", (left + 150, top + 10), 24)
    tip = ((left + 290, top + 10, 0), (left + 258, top + 75, 0), (left + 322, top + 75, 0))
    yield Line("compass-tip", rounded(tip, closed=True))


def _outline(css: str, left: int, top: int, wide: int, high: int) -> Line:
    """Round at the nose, square at the tail."""
    nose, tail = wide // 2, wide // 8
    corners = (
        (left, top, nose), (left + wide, top, nose), (left + wide, top + high, tail), (left, top + high, tail),
    )  # fmt: skip
    return Line(css, rounded(corners, closed=True))
