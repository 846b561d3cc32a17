"""One side of the vehicle in its box: from permille of the view to the picture, turned as the vehicle lies."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalog.draw.bodies import Body, Part
from catalog.draw.faces import FRONT, LEFT, REAR, RIGHT, ROOF, UNDER, extent
from catalog.draw.geometry import Corner, flattened, is_inside, part, rounded
from catalog.draw.model import Circle, Line, Point, Shape

_TABLE = {FRONT: "front", REAR: "rear", LEFT: "side", RIGHT: "side", ROOF: "top", UNDER: "top"}
_HEART = {"front": (500, 400), "rear": (500, 400), "side": (500, 400), "top": (500, 500)}
_MARGIN = 25  # a mark stands so far inside the outline


@dataclass(frozen=True, slots=True)
class Frame:
    """A view of a body in the picture. left, bottom: its corner. across, up: before the turn (quarters clockwise)."""

    body: Body
    view: str
    turn: int
    left: int
    bottom: int
    across: int
    up: int

    @property
    def table(self) -> str:
        """Which of the body's tables it is drawn from."""
        return _TABLE[self.view]

    @property
    def size(self) -> Point:
        """Width and height as it stands in the picture."""
        return (self.up, self.across) if self.turn % 2 else (self.across, self.up)

    @property
    def box(self) -> tuple[int, int, int, int]:
        """Left, top, right, bottom."""
        wide, high = self.size
        return (self.left, self.bottom - high, self.left + wide, self.bottom)

    def point(self, at: Point) -> Point:
        """(u, v) permille of the unturned view -> the picture."""
        right, up = part(at[0], self.across, 1000), part(at[1], self.up, 1000)
        if self.turn == 1:
            return (self.left + up, self.bottom - (self.across - right))
        if self.turn == 2:
            return (self.left + self.across - right, self.bottom - (self.up - up))
        if self.turn == 3:
            return (self.left + self.up - up, self.bottom - right)
        return (self.left + right, self.bottom - up)

    def of_table(self, at: Point, far: int = 1) -> Point:
        """A point of the view's table -> the picture. far: -1 for the other half of what is told by halves."""
        a, b = at
        if self.view in (FRONT, REAR):
            return self.point((500 + far * a, b))
        if self.view == LEFT:
            return self.point((a, b))
        if self.view == RIGHT:
            return self.point((1000 - a, b))
        if self.view == ROOF:
            return self.point((a, 500 + far * b))
        return self.point((1000 - a, 500 + far * b))

    def radius(self, told: int) -> int:
        """Permille of the vehicle's height -> the picture; across a roof as across a flank."""
        high = self.up if self.table != "top" else self.up * self.body.size[2] // self.body.size[1]
        return part(told, high, 1000)


def frame_of(body: Body, view: str, turn: int, size: tuple[int, int, int]) -> Frame:
    """A frame at the origin. size: length, width, height in the picture."""
    across, up = extent(view, size)
    return Frame(body, view, turn, 0, 0, across, up)


def shapes_of(frame: Frame) -> Iterator[Shape]:
    """The vehicle as seen from that side, what is behind first."""
    table = frame.body.views[frame.table]
    if frame.view == UNDER:
        for told in table:
            if told.css in ("body", "thick"):
                yield from _part(frame, told)
        yield from _beneath(frame)
        return
    if frame.table in ("front", "rear"):
        yield from (Line("tyre", outline) for outline in _tyres(frame))
    for told in table:
        yield from _part(frame, told)
    if frame.table == "side":
        yield from _wheels(frame)


def _part(frame: Frame, told: Part) -> Iterator[Line]:
    closed = told.css not in ("line", "thick")
    for corners in _corners(frame, told):
        yield Line(told.css, rounded(corners, closed))


def _corners(frame: Frame, told: Part) -> Iterator[tuple[Corner, ...]]:
    one = tuple((*frame.of_table((a, b)), frame.radius(radius)) for a, b, radius in told.corners)
    if told.kind == "one":
        yield one
        return
    other = tuple((*frame.of_table((a, b), -1), frame.radius(radius)) for a, b, radius in told.corners)
    if told.kind == "pair":
        yield one
        yield other
    else:
        yield one + other[::-1]


def _tyres(frame: Frame) -> Iterator[tuple[tuple[str, tuple[int, ...]], ...]]:
    inner, outer = frame.body.tyres
    high = 2 * frame.body.wheel
    sides = (1, -1) if inner > 0 else (1,)
    for far in sides:
        low = inner if inner > 0 else -outer
        corners = [
            (*frame.of_table((a, b), far), frame.radius(25))
            for a, b in ((low, 0), (outer, 0), (outer, high), (low, high))
        ]
        yield rounded(corners, closed=True)


def _wheels(frame: Frame) -> Iterator[Circle]:
    radius = frame.radius(frame.body.wheel)
    for axle in frame.body.axles:
        centre = frame.of_table((axle, frame.body.wheel))
        yield Circle("halo", centre, radius + max(12, radius // 9))
        yield Circle("tyre", centre, radius)
        yield Circle("hub", centre, radius * 11 // 20)


def _beneath(frame: Frame) -> Iterator[Line]:
    """Axles, tyres and the frame's rails: what tells an underside."""
    inner, outer = frame.body.tyres
    first, last = frame.body.axles[0], frame.body.axles[-1]
    if inner > 0:
        for far in (1, -1):
            rail = inner * 5 // 8
            yield Line("line", (("M", frame.of_table((first, rail), far)), ("L", frame.of_table((last, rail), far))))
    half = part(frame.body.wheel, frame.body.size[2], frame.body.size[0])
    sides = (1, -1) if inner > 0 else (1,)
    low = inner if inner > 0 else -outer
    for axle in frame.body.axles:
        yield Line("line", (("M", frame.of_table((axle, low), 1)), ("L", frame.of_table((axle, low), -1))))
        for far in sides:
            corners = [
                (*frame.of_table((a, b), far), 15)
                for a, b in ((axle - half, low), (axle + half, low), (axle + half, outer), (axle - half, outer))
            ]
            yield Line("tyre", rounded(corners, closed=True))


def outlines(frame: Frame) -> tuple[tuple[Point, ...], ...]:
    """What counts as the vehicle's own area: its bodywork and its wheels."""
    found = [
        flattened(rounded(corners, closed=True))
        for told in frame.body.views[frame.table]
        if told.css == "body"
        for corners in _corners(frame, told)
    ]
    if frame.table in ("front", "rear"):
        found += [flattened(outline) for outline in _tyres(frame)]
    if frame.table == "side":
        radius = frame.radius(frame.body.wheel)
        for axle in frame.body.axles:
            x, y = frame.of_table((axle, frame.body.wheel))
            slant = radius * 7 // 10
            around = (
                (radius, 0), (slant, slant), (0, radius), (-slant, slant),
                (-radius, 0), (-slant, -slant), (0, -radius), (slant, -slant),
            )  # fmt: skip
            found.append(tuple((x + a, y + b) for a, b in around))
    return tuple(found)


def settled(frame: Frame, areas: Sequence[Sequence[Point]], at: Point) -> Point:
    """A permille point of the view in the picture, moved into the outline if outside: up or down, then inwards."""
    start = frame.point(at)
    if _stands(areas, start):
        return start
    straight = frame.point((at[0], _HEART[frame.table][1]))
    found = _first(areas, start, straight)
    return inwards(frame, areas, start) if found is None else found


def inwards(frame: Frame, areas: Sequence[Sequence[Point]], start: Point) -> Point:
    """A point of the picture, moved towards the middle of the vehicle until it is inside."""
    heart = frame.point(_HEART[frame.table])
    found = _first(areas, start, heart)
    return heart if found is None else found


def _first(areas: Sequence[Sequence[Point]], start: Point, goal: Point) -> Point | None:
    for step in range(61):
        tried = (start[0] + part(goal[0] - start[0], step, 60), start[1] + part(goal[1] - start[1], step, 60))
        if _stands(areas, tried):
            return tried
    return None


def _stands(areas: Sequence[Sequence[Point]], at: Point) -> bool:
    x, y = at
    around = ((x - _MARGIN, y), (x + _MARGIN, y), (x, y - _MARGIN), (x, y + _MARGIN))
    return all(any(is_inside(point, area) for area in areas) for point in around)
