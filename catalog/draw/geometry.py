"""Whole-number geometry: roots, rounded corners, what lies inside, which lines cross."""

from collections.abc import Sequence

from catalog.draw.model import Point

Step = tuple[str, tuple[int, ...]]
Corner = tuple[int, int, int]


def root(number: int) -> int:
    """The whole square root, rounded down; 0 for what is not above 0."""
    if number <= 0:
        return 0
    # Half of a + number / a is never below the root, whatever a is; 2048 is near it for a picture's distances.
    found = (2048 + number // 2048) // 2 + 1
    better = (found + number // found) // 2
    while better < found:
        found = better
        better = (found + number // found) // 2
    return found


def distance(a: Point, b: Point) -> int:
    """How far apart, rounded down."""
    return root((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]))


def part(number: int, of: int, whole: int) -> int:
    """number * of / whole, rounded half up; whole above 0."""
    return (2 * number * of + whole) // (2 * whole)


def towards(a: Point, b: Point, far: int) -> Point:
    """The point so far from a on the way to b; a itself where they are one."""
    return _on_way(a, b, far, distance(a, b))


def _on_way(a: Point, b: Point, far: int, apart: int) -> Point:
    """towards(a, b, far), where it is known how far apart they are."""
    if apart == 0:
        return a
    return (a[0] + part(b[0] - a[0], far, apart), a[1] + part(b[1] - a[1], far, apart))


def _cut(a: Point, b: Point, radius: int) -> Point:
    """As far from a on the way to b as the radius goes, but no further than half."""
    apart = distance(a, b)
    return _on_way(a, b, min(radius, apart // 2), apart)


def longer(a: Point, b: Point, by: int) -> Point:
    """The point so far beyond b, coming from a."""
    apart = distance(a, b)
    return _on_way(a, b, apart + by, apart)


def rounded(corners: Sequence[Corner], closed: bool) -> tuple[Step, ...]:
    """A path through corners (x, y, radius), each rounded as far as its edges allow."""
    steps: list[Step] = []
    count = len(corners)
    for at in range(count):
        x, y, radius = corners[at]
        ends = not closed and at in (0, count - 1)
        if radius == 0 or ends:
            steps.append(("M" if at == 0 else "L", (x, y)))
            continue
        before, after = corners[(at - 1) % count], corners[(at + 1) % count]
        first, last = (before[0], before[1]), (after[0], after[1])
        cut_in = _cut((x, y), first, radius)
        cut_out = _cut((x, y), last, radius)
        steps.append(("M" if at == 0 else "L", cut_in))
        steps.append(("Q", (x, y, cut_out[0], cut_out[1])))
    if closed:
        steps.append(("Z", ()))
    return tuple(steps)


def flattened(steps: Sequence[Step]) -> tuple[Point, ...]:
    """The path as points, each curve by its middle and its end."""
    points: list[Point] = []
    for letter, told in steps:
        if letter == "Q":
            x0, y0 = points[-1]
            points.append(((x0 + 2 * told[0] + told[2]) // 4, (y0 + 2 * told[1] + told[3]) // 4))
            points.append((told[2], told[3]))
        elif letter != "Z":
            points.append((told[0], told[1]))
    return tuple(points)


def is_inside(point: Point, corners: Sequence[Point]) -> bool:
    """Whether a point lies in a closed outline, by the crossings of a level line to its right."""
    x, y = point
    inside = False
    x1, y1 = corners[-1]
    for x2, y2 in corners:
        if (y1 > y) != (y2 > y):
            # x < x1 + (y - y1) * (x2 - x1) / (y2 - y1), without a division
            ahead = (y - y1) * (x2 - x1) - (x - x1) * (y2 - y1)
            if (ahead > 0) == (y2 > y1):
                inside = not inside
        x1, y1 = x2, y2
    return inside


def turn_of(a: Point, b: Point, c: Point) -> int:
    """Above 0, below 0 or 0: which way a, b, c turn."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two lines with their own ends cross or touch."""
    one, two = turn_of(a, b, c), turn_of(a, b, d)
    three, four = turn_of(c, d, a), turn_of(c, d, b)
    if one == 0 and two == 0 and three == 0 and four == 0:
        over_x = max(min(a[0], b[0]), min(c[0], d[0])) <= min(max(a[0], b[0]), max(c[0], d[0]))
        over_y = max(min(a[1], b[1]), min(c[1], d[1])) <= min(max(a[1], b[1]), max(c[1], d[1]))
        return over_x and over_y
    return one * two <= 0 and three * four <= 0


def off_line(point: Point, a: Point, b: Point) -> int:
    """How far a point is from the line between a and b, its ends counted; rounded down."""
    long_x, long_y = b[0] - a[0], b[1] - a[1]
    square = long_x * long_x + long_y * long_y
    along = (point[0] - a[0]) * long_x + (point[1] - a[1]) * long_y
    if square == 0 or along <= 0:
        return distance(point, a)
    if along >= square:
        return distance(point, b)
    return abs(turn_of(a, b, point)) // max(1, root(square))
