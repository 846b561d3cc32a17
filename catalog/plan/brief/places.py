"""A place in few words for the radio: "vehicle's left rear, in the boot". The vehicle's own left, always said so."""

from catalog.domain.places import LANDMARK, LEVEL, Place

_SIDED = {"front_face": "front face", "front_quarter": "front", "middle": "middle", "rear_quarter": "rear",
          "rear_face": "rear face"}  # fmt: skip
_CENTRE = {"front_face": "front face, centre", "front_quarter": "front, centre", "middle": "middle of the vehicle",
           "rear_quarter": "rear, centre", "rear_face": "rear face, centre"}  # fmt: skip


def place_said(place: Place) -> str:
    """The level is said where no landmark says where to look."""
    where = _CENTRE[place.end] if place.side == "centre" else f"vehicle's {place.side} {_SIDED[place.end]}"
    at = LANDMARK.label_of(place.landmark) if place.landmark else LEVEL.label_of(place.level)
    return f"{where}, {at.replace(' the ', ' ')}"
