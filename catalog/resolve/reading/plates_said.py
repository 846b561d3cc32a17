"""Plates that mark a vehicle as electrified where the law does so: "green stripe along the number plate".

A mark (green, or a blue label) and a plate with nothing between them but what plates have. Which mark
means what differs by country: battery or fuel cell is the least that any of them says.
"""

from collections.abc import Sequence

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention
from catalog.resolve.reading.scan import Scan
from catalog.resolve.reading.tokens import STOP
from catalog.resolve.reading.words import exactly

_PLATE = frozenset(("plate", "reg", "rego", "registration", "tag", "numberplate", "plater"))
_GREEN = frozenset(("green", "greenish", "teal"))
_BLUE_MARKS = frozenset(("triangle", "label", "ev"))
_DENIED = frozenset(("no", "not", "without", "isnt", "nor"))
_REACH = 9


def read_plates(scan: Scan, taken: Sequence[bool]) -> list[Mention]:
    """At most one mention: a green mark on the plate, or that there is none."""
    for at, word in enumerate(scan.words):
        if word.key not in _GREEN and word.key != "blue":
            continue
        for step in (1, -1):
            plate = _plate(scan, at, step)
            if plate < 0:
                continue
            start, end = min(at, plate), max(at, plate) + 1
            blue = word.key == "blue" and not any(
                scan.words[place].key in _BLUE_MARKS for place in range(start, min(end + 4, len(scan.words)))
            )
            if blue or any(taken[start:end]):
                continue
            denied = scan.before(at) in _DENIED and not (scan.before(at) == "no" and scan.words[at].token.parted == 0)
            return [
                Mention(
                    "propulsion",
                    ("battery", "fuel_cell"),
                    at - denied if denied else start,
                    end,
                    Doubt.HEDGED,
                    denied=denied,
                    weak=not denied,
                )
            ]
    return []


def _plate(scan: Scan, at: int, step: int) -> int:
    """Where the plate stands that a colour is said of, or -1."""
    place = at
    for _ in range(_REACH):
        parted = scan.words[max(place, place + step)].token.parted if 0 <= place + step < len(scan.words) else STOP
        place += step
        if parted >= STOP or not 0 <= place < len(scan.words):
            return -1
        if scan.words[place].key in _PLATE:
            return place
        token = scan.words[place].token
        if (
            scan.words[place].key not in exactly("between_plate")
            and token.text not in exactly("between_plate")
            and not any("0" <= sign <= "9" for sign in token.text)
        ):
            return -1
    return -1
