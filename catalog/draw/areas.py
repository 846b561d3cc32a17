"""Zones as areas of a view: pillars, rails and sills by name, packs by the floor, all else a mark of its own size."""

from collections.abc import Iterator, Sequence

from catalog.domain.places import Place, zone_box
from catalog.draw.faces import FRONT, LEFT, REAR, RIGHT, ROOF, UNDER, Stance, on_view, permille_of, view_of
from catalog.draw.frame import Frame, settled
from catalog.draw.geometry import longer, part, rounded
from catalog.draw.model import Line, Point, Zone

CUT, LATTICE, DOTS = "cut", "lattice", "dots"
FILL = {
    "no_cut": CUT, "inflator": CUT, "pretensioner": CUT, "gas_strut": CUT, "cable": CUT,
    "no_push": LATTICE, "pack": LATTICE, "tank": LATTICE,
    "not_stated": DOTS,
    "battery12": "", "strong": "",
}  # fmt: skip
_BAND = {"cut": 50, "lattice": 80, "dots": 60, "": 30}  # thickness, tenths of a pixel
# Half width and half height of a mark, mm of a vehicle; never under the least, tenths of a pixel.
_HALF = {
    "tank": (420, 190), "battery12": (150, 110), "inflator": (170, 50), "pretensioner": (60, 120),
    "gas_strut": (170, 35), "cable": (200, 40), "no_cut": (140, 100), "no_push": (300, 120), "strong": (140, 60),
    "not_stated": (300, 120), "pack": (450, 140),
}  # fmt: skip
_LEAST = 40
_EDGE = 9
_NAMED = {"roof_rail": "rail", "in_sill": "sill", "in_pillar": "pillar"}
_BY_LEVEL = {"low": "sill", "mid": "pillar", "high": "pillar", "roof": "rail"}
_SPREADS = frozenset(("not_stated", "no_cut", "no_push", "strong"))
_PILLARS = {"front_quarter": "front_pillar", "middle": "middle_pillar", "rear_quarter": "rear_pillar"}


def area_name(zone: Zone) -> str:
    """The pillar, rail or sill a zone means, pack for what lies over the floor; "" for what is a mark of its own."""
    place = zone.place
    low_middle = place.end == "middle" and place.level in ("under", "low")
    if low_middle and place.side == "centre" and zone.kind in ("pack", "no_push", "not_stated"):
        return "floor"
    if place.side == "centre" or place.end in ("front_face", "rear_face"):
        return ""
    name = _NAMED.get(place.landmark or "", "")
    if not name and place.landmark is None and place.at is None and zone.kind in _SPREADS:
        name = _BY_LEVEL.get(place.level, "")
    return _PILLARS[place.end] if name == "pillar" else name


def views_of(zone: Zone, stance: Stance) -> tuple[str, ...]:
    """The sides a zone is drawn on, the one it belongs to first."""
    place, name = zone.place, area_name(zone)
    own = _flank(place)
    if name == "floor":
        return (LEFT, RIGHT, UNDER)
    if name == "sill":
        return (own, UNDER)
    if name == "rail":
        return (own, ROOF)
    if name == "front_pillar":
        return (own, FRONT, ROOF) if place.level != "low" else (own,)
    if name == "rear_pillar":
        return (own, REAR, ROOF) if place.level != "low" else (own,)
    if name == "middle_pillar":
        return (own,)
    if place.end not in ("front_face", "rear_face"):
        if place.level == "under":
            return (UNDER, LEFT, RIGHT) if place.side == "centre" else (own, UNDER)
        if place.level == "roof":
            return (ROOF, LEFT, RIGHT) if place.side == "centre" else (own, ROOF)
    return (own,) if own else (view_of(place, stance),)


def _flank(place: Place) -> str:
    if place.end in ("front_face", "rear_face"):
        return ""
    return {"left": LEFT, "right": RIGHT}.get(place.side, "")


def lines_of(zone: Zone, frame: Frame, outline: Sequence[Sequence[Point]]) -> Iterator[Line]:
    """A zone on one of its views."""
    name, fill = area_name(zone), FILL[zone.kind]
    table = frame.body.areas.get(frame.table, {})
    if name == "floor":
        yield from _floor(zone, frame, fill)
    elif name in table:
        yield from _banded(_along(zone, frame, table[name]), fill)
    else:
        yield _mark(zone, frame, outline, fill)


def _along(zone: Zone, frame: Frame, middle: Sequence[Point]) -> tuple[Point, ...]:
    """Along the middle line of a pillar, rail or sill, as far as the zone goes."""
    box = zone_box(zone.place)
    pillar = area_name(zone).endswith("pillar")
    clipped = tuple(middle)
    if frame.table == "side":
        clipped = within(clipped, 1, box[2]) if pillar else within(clipped, 0, box[0])
    elif frame.table == "top" and not pillar:
        clipped = within(clipped, 0, box[0])
    far = 1
    if frame.table in ("front", "rear"):
        # On the front face the vehicle's left is on the looker's right.
        far = 1 if (zone.place.side == "left") == (frame.table == "front") else -1
    elif frame.table == "top":
        far = -1 if zone.place.side == "left" else 1
    return tuple(frame.of_table(point, far) for point in clipped)


def _banded(points: Sequence[Point], fill: str) -> Iterator[Line]:
    """A filled band with its edge, or a plain line where nothing is filled."""
    path = rounded([(x, y, 0) for x, y in points], closed=False)
    if not fill:
        yield Line("zone-strong", path)
        return
    edge = [longer(points[1], points[0], _EDGE), *points[1:-1], longer(points[-2], points[-1], _EDGE)]
    yield Line("band-edge", rounded([(x, y, 0) for x, y in edge], closed=False), "", _BAND[fill] + 2 * _EDGE)
    yield Line("band", path, fill, _BAND[fill])


def within(line: Sequence[Point], axis: int, bounds: tuple[int, int]) -> tuple[Point, ...]:
    """The piece of a line between bounds along an axis; all of it where nothing lies between them."""
    low, high = bounds
    found: list[Point] = []
    for at in range(len(line) - 1):
        a, b = line[at], line[at + 1]
        if min(a[axis], b[axis]) >= high or max(a[axis], b[axis]) <= low:
            continue
        for point in (_at(a, b, axis, min(max(a[axis], low), high)), _at(a, b, axis, min(max(b[axis], low), high))):
            if not found or found[-1] != point:
                found.append(point)
    return tuple(found) if len(found) > 1 else tuple(line)


def _at(a: Point, b: Point, axis: int, value: int) -> Point:
    whole = b[axis] - a[axis]
    if whole == 0:
        return a
    along, sign = (value - a[axis]) * (1 if whole > 0 else -1), abs(whole)
    return (a[0] + part(b[0] - a[0], along, sign), a[1] + part(b[1] - a[1], along, sign))


def _floor(zone: Zone, frame: Frame, fill: str) -> Iterator[Line]:
    """The floor between the axles: from below an area, from the side a band along the sill."""
    named = frame.body.areas[frame.table]
    (first, a), (last, b) = named["floor"]
    if frame.table == "top":
        corners = [(first, a), (last, b), (last, -b), (first, -a)]
        yield _area([frame.of_table(corner) for corner in corners], fill)
    else:
        yield from _banded([frame.of_table((first, a)), frame.of_table((last, b))], fill)


def _area(corners: Sequence[Point], fill: str) -> Line:
    return Line("zone", rounded([(x, y, 12) for x, y in corners], closed=True), fill)


def _mark(zone: Zone, frame: Frame, outline: Sequence[Sequence[Point]], fill: str) -> Line:
    """A box about the point, as large as such a thing is, turned with the vehicle."""
    x, y = settled(frame, outline, on_view(permille_of(zone.place), frame.view))
    long, high = _HALF[zone.kind]
    scale = (frame.across, frame.body.size[0]) if frame.table in ("side", "top") else (frame.across, frame.body.size[1])
    half_x = max(_LEAST, part(long, *scale) if frame.table in ("side", "top") else part(long, *scale) // 2)
    half_y = max(_LEAST, part(high, *scale))
    if frame.turn % 2:
        half_x, half_y = half_y, half_x
    left, top, right, bottom = frame.box
    x = min(max(x, left + half_x), right - half_x)
    y = min(max(y, top + half_y), bottom - half_y)
    radius = min(half_x, half_y) if zone.kind == "tank" else 10
    box = ((x - half_x, y - half_y), (x + half_x, y - half_y), (x + half_x, y + half_y), (x - half_x, y + half_y))
    if zone.kind == "strong":
        return Line("zone-strong", (("M", (x - half_x, y)), ("L", (x + half_x, y))))
    css = "battery" if zone.kind == "battery12" else "zone"
    return Line(css, rounded([(a, b, radius) for a, b in box], closed=True), fill)
