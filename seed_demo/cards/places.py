"""Where something is, as an onlooker would point at it."""

from catalog.domain.places import Place, zone_centre
from seed_demo.cards.wording import Wording

# Upper edges in millimetres above the ground: an adult's body is the ruler (common practice, no source).
_RULER = ((150, "ground"), (300, "ankle"), (600, "knee"), (1050, "hip"), (1350, "chest"), (1750, "head"))
_USUAL_HEIGHT = 1500
_FACES = ("front_face", "rear_face")


def pointed_at(place: Place, height: int | None, wording: Wording) -> str:
    """Plain words for a place. height: of the whole vehicle, mm; an ordinary car's where it is not stated."""
    kind = f"{place.side}_end" if place.end in _FACES else place.side
    spot = place.landmark if place.landmark in _SPOTS else None
    parts = (
        wording.say("side", kind),
        wording.say("end", place.end),
        wording.say("spot", spot) if spot else "",
        wording.say("height", _height(place, height or _USUAL_HEIGHT)),
    )
    return ", ".join(part for part in parts if part)


_SPOTS = (
    "above_wheel", "behind_wheel", "ahead_of_wheel", "under_seat", "in_pillar", "in_bumper", "on_frame",
)  # fmt: skip


def _height(place: Place, height: int) -> str:
    """The part of a grown-up it is level with."""
    if place.level == "roof":
        return "top"
    up = (place.at or zone_centre(place))[2] * height // 1000
    return next((name for edge, name in _RULER if up < edge), "overhead")
