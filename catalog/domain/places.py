"""Where something is on a vehicle: side x end x level, and an optional landmark.

The zone is normative. Coordinates are illustrative, integer permille of overall length,
width and height: x rearward from the front face, y to the vehicle's right from its left
flank, z up from the ground; they must lie in the zone's box. Left and right are always the
vehicle's own, seated facing forward.
"""

from dataclasses import dataclass

from catalog.domain.terms import Vocabulary, index, vocabulary

SIDE = vocabulary("side", "side", left="left", centre="centre", right="right")
END = vocabulary(
    "end", "end",
    front_face="front face", front_quarter="front quarter", middle="middle",
    rear_quarter="rear quarter", rear_face="rear face",
)  # fmt: skip
LEVEL = vocabulary("level", "level", under="underneath", low="low", mid="mid height", high="high", roof="roof")
LANDMARK = vocabulary(
    "landmark", "landmark",
    behind_badge="behind the badge", in_lamp="in the lamp", behind_plate="behind the number plate",
    above_wheel="above the wheel", behind_wheel="behind the wheel", ahead_of_wheel="ahead of the wheel",
    under_seat="under the seat", behind_seat="behind the seat", behind_trim="behind trim",
    under_bonnet="under the bonnet", in_boot="in the boot", in_cabin="in the cabin", in_bumper="in the bumper",
    in_pillar="in the pillar", roof_rail="in the roof rail", in_dash="in the dash", in_seat="in the seat",
    behind_panel="behind a panel", in_wheel_arch="in the wheel arch", in_sill="in the sill",
    on_frame="on the frame",
)  # fmt: skip

BY_KEY = index(SIDE, END, LEVEL, LANDMARK)

FRAME_NOTE = "Left and right are the vehicle's, seated facing forward."

# Half-open [from, to) permille; the last interval of an axis takes its upper end too.
_X = {
    "front_face": (0, 60), "front_quarter": (60, 360), "middle": (360, 640),
    "rear_quarter": (640, 940), "rear_face": (940, 1000),
}  # fmt: skip
_Y = {"left": (0, 380), "centre": (380, 620), "right": (620, 1000)}
_Z = {"under": (0, 150), "low": (150, 350), "mid": (350, 600), "high": (600, 900), "roof": (900, 1000)}


@dataclass(frozen=True, slots=True)
class Place:
    """A zone of the vehicle, with an optional landmark and illustrative point (permille)."""

    side: str
    end: str
    level: str
    landmark: str | None = None
    at: tuple[int, int, int] | None = None

    @property
    def zone(self) -> tuple[str, str, str]:
        return (self.side, self.end, self.level)


Box = tuple[tuple[int, int], tuple[int, int], tuple[int, int]]


def zone_box(place: Place) -> Box:
    """((x0, x1), (y0, y1), (z0, z1)) in permille, both ends inclusive for drawing."""
    return (_X[place.end], _Y[place.side], _Z[place.level])


def zone_centre(place: Place) -> tuple[int, int, int]:
    """The point drawn for a place known only by its zone."""
    (x0, x1), (y0, y1), (z0, z1) = zone_box(place)
    return ((x0 + x1) // 2, (y0 + y1) // 2, (z0 + z1) // 2)


def point_in_zone(place: Place) -> bool:
    """Whether the illustrative point lies in the zone's box (true when there is none)."""
    if place.at is None:
        return True
    return all(low <= value <= high for value, (low, high) in zip(place.at, zone_box(place), strict=True))


def words(place: Place) -> str:
    """Plain words, vehicle frame: "left rear quarter, mid height, behind the badge"."""
    end = END.label_of(place.end)
    side = {"centre": "centre of the "}.get(place.side, f"{SIDE.label_of(place.side)} ")
    if place.side == "centre" and place.end == "middle":
        side, end = "", "centre of the vehicle"
    text = f"{side}{end}, {LEVEL.label_of(place.level)}"
    return text if place.landmark is None else f"{text}, {LANDMARK.label_of(place.landmark)}"


# Landmarks that are a part of the body, and the level they say by themselves.
_PARTS = {
    "roof_rail": ("roof rail", "roof"), "in_pillar": ("pillar", ""), "in_sill": ("sill", "low"),
    "in_wheel_arch": ("wheel arch", ""),
}  # fmt: skip
_SHORT_ENDS = {"front_quarter": "front", "middle": "middle", "rear_quarter": "rear"}


def spot(place: Place) -> str:
    """The same in fewer words where a part of the body says it: "left middle pillar, low"; else as `words`."""
    if place.side == "centre" or place.end not in _SHORT_ENDS or place.landmark not in _PARTS:
        return words(place)
    part, level = _PARTS[place.landmark]
    text = f"{SIDE.label_of(place.side)} {_SHORT_ENDS[place.end]} {part}"
    return text if place.level == level else f"{text}, {LEVEL.label_of(place.level)}"


@dataclass(frozen=True, slots=True)
class Size:
    """Overall length, width and height in millimetres."""

    length: int
    width: int
    height: int


def to_iso8855(at: tuple[int, int, int], size: Size) -> tuple[float, float, float]:
    """Permille -> millimetres in ISO 8855 axes (x forward, y left, z up).

    Origin: front face, centre line, ground; so x is never positive.
    """
    x, y, z = at
    return (-x * size.length / 1000, (500 - y) * size.width / 1000, z * size.height / 1000)


def from_iso8855(point: tuple[float, float, float], size: Size) -> tuple[int, int, int]:
    """Inverse of `to_iso8855`, rounded to whole permille."""
    x, y, z = point
    return (
        round(-x * 1000 / size.length),
        round(500 - y * 1000 / size.width),
        round(z * 1000 / size.height),
    )


def to_j670(at: tuple[int, int, int], size: Size) -> tuple[float, float, float]:
    """Permille -> millimetres in SAE J670 axes (x forward, y right, z down), same origin."""
    x, y, z = to_iso8855(at, size)
    return (x, -y, -z)


def from_j670(point: tuple[float, float, float], size: Size) -> tuple[int, int, int]:
    """Inverse of `to_j670`."""
    x, y, z = point
    return from_iso8855((x, -y, -z), size)


def mirrored(place: Place) -> Place:
    """The same place on the other side of the vehicle."""
    side = {"left": "right", "right": "left"}.get(place.side, place.side)
    at = None if place.at is None else (place.at[0], 1000 - place.at[1], place.at[2])
    return Place(side, place.end, place.level, place.landmark, at)


PLACE_VOCABULARIES: tuple[Vocabulary, ...] = (SIDE, END, LEVEL, LANDMARK)
