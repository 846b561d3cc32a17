"""Which side of the vehicle a place is reached from, and which sides a crew meets in each posture."""

from dataclasses import dataclass

from catalog.domain.places import Place, zone_centre
from catalog.draw.model import Point

FRONT, LEFT, REAR, RIGHT, ROOF, UNDER = "front", "left", "rear", "right", "roof", "under"
VIEWS = (FRONT, LEFT, REAR, RIGHT, ROOF, UNDER)
VIEW_WORDS = {
    FRONT: "front face", LEFT: "left flank", REAR: "rear face", RIGHT: "right flank", ROOF: "roof",
    UNDER: "underside",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stance:
    """A posture as one walks round it.

    walked: (view, quarter turns clockwise) in walking order, to one's right from the front face. top: what is
    reached from above, "" on its wheels. ground: what lies on the ground.
    """

    words: str
    walked: tuple[tuple[str, int], ...]
    top: str
    ground: str


# A view unturned: flanks on their wheels; the roof nose left, the underside nose right, both with the left flank below.
_ON_WHEELS = ((FRONT, 0), (LEFT, 0), (REAR, 0), (RIGHT, 0))
STANCES = {
    "": Stance("Posture not said: drawn on its wheels", _ON_WHEELS, "", ""),
    "wheels": Stance("On its wheels", _ON_WHEELS, "", ""),
    "left_down": Stance("Left side down", ((FRONT, 1), (ROOF, 0), (REAR, 3), (UNDER, 0)), RIGHT, LEFT),
    "right_down": Stance("Right side down", ((FRONT, 3), (UNDER, 2), (REAR, 1), (ROOF, 2)), LEFT, RIGHT),
    "roof": Stance("On its roof", ((FRONT, 2), (RIGHT, 2), (REAR, 2), (LEFT, 2)), UNDER, ROOF),
}

# Inside: reached through a door of its side, whatever end of the vehicle it is at.
_INSIDE = frozenset(("under_seat", "behind_seat", "in_cabin", "in_dash", "in_seat"))
# A place on the flank that lies on the ground, and where it is still come at: from above or below the flank.
_THROUGH_ROOF = _INSIDE | frozenset(("in_boot", "under_bonnet"))
_FROM_BELOW = frozenset(("in_wheel_arch", "behind_wheel", "ahead_of_wheel", "on_frame"))
_AT_THE_END = frozenset(("in_lamp", "in_bumper", "behind_plate"))


def view_of(place: Place, stance: Stance) -> str:
    """The side a place is drawn on: its own; one without a side, the first that is met.

    Of a flank on the ground, what is inside or beneath is drawn where a crew comes at it.
    """
    own = _own_view(place, stance)
    if own != stance.ground:
        return own
    if own == ROOF:
        return {"left": LEFT, "right": RIGHT}.get(place.side, RIGHT) if place.landmark in _THROUGH_ROOF else own
    if place.landmark in _THROUGH_ROOF:
        return ROOF
    if place.landmark in _FROM_BELOW:
        return UNDER
    if place.landmark in _AT_THE_END:
        return {"front_quarter": FRONT, "rear_quarter": REAR}.get(place.end, own)
    return own


def views_held(place: Place, stance: Stance) -> tuple[str, ...]:
    """Where a vehicle is held: its wheel's flank, both for one without a side, or the long sides as it lies."""
    if stance.ground:
        return (stance.walked[1][0], stance.walked[3][0])
    return {"left": (LEFT,), "right": (RIGHT,)}.get(place.side, (LEFT, RIGHT))


def _own_view(place: Place, stance: Stance) -> str:
    lies = stance.ground != ""
    inside = place.landmark in _INSIDE
    if place.end == "front_face" and not inside:
        return FRONT
    if place.end == "rear_face" and not inside:
        return REAR
    if lies and place.level == "under":
        return UNDER
    if lies and place.level == "roof" and place.landmark != "roof_rail":
        return ROOF
    if place.side == "left":
        return LEFT
    if place.side == "right":
        return RIGHT
    if not inside and place.end == "front_quarter":
        return FRONT
    if not inside and place.end == "rear_quarter":
        return REAR
    if stance.ground in (LEFT, RIGHT):
        return UNDER if place.level == "low" else ROOF
    return RIGHT if lies else LEFT


def permille_of(place: Place) -> tuple[int, int, int]:
    """(x rearward, y to the right, z up): the stated point, else the zone's centre."""
    return place.at if place.at is not None else zone_centre(place)


def on_view(at: tuple[int, int, int], view: str) -> Point:
    """(u, v) permille in a view that is not turned: u to the looker's right, v up."""
    x, y, z = at
    if view == FRONT:
        return (1000 - y, z)
    if view == REAR:
        return (y, z)
    if view == LEFT:
        return (x, z)
    if view == RIGHT:
        return (1000 - x, z)
    if view == ROOF:
        return (x, y)
    return (1000 - x, y)


def extent(view: str, size: tuple[int, int, int]) -> Point:
    """(across, up) of an unturned view. size: length, width, height; same unit out."""
    length, width, height = size
    if view in (FRONT, REAR):
        return (width, height)
    if view in (LEFT, RIGHT):
        return (length, height)
    return (length, width)
