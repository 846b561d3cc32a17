"""Where discs hang: above what is mid and high, below what is low, no two overlapping, no two leaders crossing."""

from collections.abc import Sequence
from dataclasses import dataclass

from catalog.draw.geometry import crosses, distance, off_line
from catalog.draw.model import SOLID, STRUCK, Numbered, Point

RADIUS = 110
PITCH = 264  # from disc to disc: a fingertip's 24 px and the halo
_CLEAR = RADIUS + 22  # a leader keeps so far from another disc
_MARK = 55  # and so far from another mark
_CROSSED = 1_000_000_000


@dataclass(frozen=True, slots=True)
class Hung:
    """One disc to hang: what it says and the marks it leads to."""

    numbered: Numbered
    marks: tuple[Point, ...]


def gathered(found: Sequence[tuple[Numbered, Point]]) -> tuple[Hung, ...]:
    """One disc for each number and shape; marks that all but touch are one."""
    marks: dict[tuple[int, str], list[Point]] = {}
    first: dict[tuple[int, str], Numbered] = {}
    known: list[Point] = []
    for numbered, point in found:
        near = [other for other in known if distance(point, other) < _MARK]
        mark = near[0] if near else point
        known.append(mark)
        key = (numbered.number, numbered.shape)
        first.setdefault(key, numbered)
        held = marks.setdefault(key, [])
        if mark not in held:
            held.append(mark)
    return tuple(Hung(first[key], tuple(marks[key])) for key in sorted(marks, key=_order))


def _order(key: tuple[int, str]) -> tuple[int, int]:
    return (key[0], (SOLID, "ring", STRUCK).index(key[1]))


def levels_for(count: int, room: int) -> int:
    """Rows of discs that so many need in so much room."""
    each = max(1, room // PITCH)
    return (count + each - 1) // each


def places_for(hung: Sequence[Hung], left: int, right: int, levels: Sequence[int]) -> tuple[Point, ...]:
    """A centre for each disc between left and right. levels: y of each row, the nearest to the vehicle first.

    Starts from discs in the order of their marks and changes two places as long as that makes the leaders shorter or
    clearer: the shortest set of straight leaders has none that cross.
    """
    count = len(hung)
    if count == 0:
        return ()
    slots = _slots(hung, left, right, levels)
    order = sorted(range(count), key=lambda at: (_middle(hung[at]), hung[at].numbered.number))
    place = [slots[0]] * count
    for at, slot in zip(order, slots, strict=False):
        place[at] = slot
    place += slots[count:]  # those to spare
    cost = _cost(hung, place)
    better = True
    while better:
        better = False
        for a in range(count):
            for b in range(a + 1, len(place)):
                _swap(place, a, b)
                tried = _cost(hung, place)
                if tried < cost:
                    cost, better = tried, True
                else:
                    _swap(place, a, b)
    return tuple(place[:count])


def _swap(place: list[Point], a: int, b: int) -> None:
    kept = place[a]
    place[a] = place[b]
    place[b] = kept


def _middle(hung: Hung) -> int:
    return sum(x for x, _ in hung.marks) // len(hung.marks)


def _slots(hung: Sequence[Hung], left: int, right: int, levels: Sequence[int]) -> list[Point]:
    """Places for discs, row by row, each as near to its mark as the row allows; then some to spare."""
    each = max(1, (right - left) // PITCH)
    middles = sorted(map(_middle, hung))
    rows = [middles[level :: len(levels)] for level in range(len(levels))] if len(levels) > 1 else [middles]
    made: list[tuple[int, int, Point]] = []
    spare: list[Point] = []
    for level, row in enumerate(rows):
        xs = spread(row, left + RADIUS, right - RADIUS)
        made += [(middle, level, (x, levels[level])) for middle, x in zip(row, xs, strict=True)]
        taken = list(xs)
        for at in range(each + 1):
            x = left + RADIUS + at * (PITCH // 2)
            if x <= right - RADIUS and all(abs(x - other) >= PITCH for other in taken):
                taken.append(x)
                spare.append((x, levels[level]))
    made.sort(key=lambda each: (each[0], each[1]))
    return [point for _, _, point in made] + spare


def spread(wanted: Sequence[int], low: int, high: int) -> tuple[int, ...]:
    """Places in the order of the wanted ones, PITCH apart, near to them, within low and high if they fit."""
    placed: list[int] = []
    for at in wanted:
        placed.append(max(at, low, placed[-1] + PITCH if placed else low))
    # Groups that were pushed to the right move back by half their push.
    start = 0
    while start < len(placed):
        end = start
        while end + 1 < len(placed) and placed[end + 1] - placed[end] == PITCH:
            end += 1
        push = sum(placed[at] - wanted[at] for at in range(start, end + 1)) // (end - start + 1)
        floor = placed[start - 1] + PITCH if start > 0 else low
        move = max(0, min(push, placed[start] - floor))
        for at in range(start, end + 1):
            placed[at] -= move
        start = end + 1
    limit = high
    for at in range(len(placed) - 1, -1, -1):
        placed[at] = min(placed[at], limit)
        limit = placed[at] - PITCH
    return tuple(placed)


def _cost(hung: Sequence[Hung], place: Sequence[Point]) -> int:
    """Length of the leaders, and far more for each that crosses another, or runs over a disc or a mark."""
    total = 0
    for at in range(len(hung)):
        for mark in hung[at].marks:
            total += distance(place[at], mark)
    return total + _clashes(hung, place)


def _clashes(hung: Sequence[Hung], place: Sequence[Point]) -> int:
    total = 0
    for a in range(len(hung)):
        for b in range(len(hung)):
            if a != b:
                total += _between(hung, place, a, b)
    return total


def _between(hung: Sequence[Hung], place: Sequence[Point], a: int, b: int) -> int:
    total = 0
    for one in hung[a].marks:
        if off_line(place[b], place[a], one) < _CLEAR:
            total += _CROSSED
        for other in hung[b].marks:
            if one == other:
                continue
            if crosses(place[a], one, place[b], other):
                total += _CROSSED
            if off_line(other, place[a], one) < _MARK:
                total += _CROSSED // 10
    return total


def crossings(hung: Sequence[Hung], place: Sequence[Point]) -> int:
    """How many pairs of leaders still cross, or run over a disc: none, if the room is enough."""
    return _clashes(hung, place) // _CROSSED
