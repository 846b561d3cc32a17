"""Facts and places as documents hold them."""

from functools import lru_cache
from typing import Any

from catalog.domain.places import Place, zone_box

Document = dict[str, Any]
Src = list[str]
Zone = tuple[str, str, str]


def stated(value: Any, src: Src) -> Document:
    return {"value": value, "src": src}


def absent(src: Src) -> Document:
    return {"fitted": False, "src": src}


def maybe(depends: str, src: Src) -> Document:
    return {"value": True, "fit": "some", "depends": depends, "src": src}


def place(zone: Zone, landmark: str | None, within: tuple[float, float, float], src: Src) -> Document:
    """A stated place. within: the point as shares of the zone's box, 0 to 1 along x, y and z."""
    return {"value": _value(zone, landmark, within), "src": src}


@lru_cache(maxsize=20_000)
def _value(zone: Zone, landmark: str | None, within: tuple[float, float, float]) -> Document:
    """Equal places are one object: most of a record's are the same for every vehicle of a build."""
    value: Document = {"side": zone[0], "end": zone[1], "level": zone[2]}
    if landmark is not None:
        value["landmark"] = landmark
    box = zone_box(Place(*zone))
    value["at"] = [int(low + (high - low) * share) for (low, high), share in zip(box, within, strict=True)]
    return value


def other_flank(side: str) -> str:
    """The other one of left and right; the middle stays the middle."""
    return {"left": "right", "right": "left"}.get(side, side)


def other_side(value: Document) -> Document:
    """The same place value on the other flank."""
    made = {**value, "side": other_flank(value["side"])}
    if "at" in value:
        x, y, z = value["at"]
        made["at"] = [x, 1000 - y, z]
    return made
