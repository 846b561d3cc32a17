"""A place in few words for the radio: "vehicle's left rear, in the boot". The vehicle's own left, always said so."""

from collections.abc import Mapping
from functools import cache
from itertools import product

from catalog.domain.places import END, LANDMARK, LEVEL, SIDE, Place, words

_SIDED = {"front_face": "front face", "front_quarter": "front", "middle": "middle", "rear_quarter": "rear",
          "rear_face": "rear face"}  # fmt: skip
_CENTRE = {"front_face": "front face, centre", "front_quarter": "front, centre", "middle": "middle of the vehicle",
           "rear_quarter": "rear, centre", "rear_face": "rear face, centre"}  # fmt: skip


OWN = "vehicle's "


def place_said(place: Place) -> str:
    """The level is said where no landmark says where to look."""
    at = LANDMARK.label_of(place.landmark) if place.landmark else LEVEL.label_of(place.level)
    return f"{zone_said(place)}, {at.replace(' the ', ' ')}"


def zone_said(place: Place) -> str:
    """Side and end: "vehicle's left rear"."""
    return _CENTRE[place.end] if place.side == "centre" else f"{OWN}{place.side} {_SIDED[place.end]}"


def spoken_place(text: str) -> str:
    """A place in full words as it is said; any other text as it is."""
    return _all_places().get(text, text)


@cache
def _all_places() -> Mapping[str, str]:
    zones = product(SIDE.keys, END.keys, LEVEL.keys, (None, *LANDMARK.keys))
    return {words(place): place_said(place) for place in (Place(*zone) for zone in zones)}
