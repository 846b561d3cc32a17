"""A phrase for each cue that, read again, gives the same cue: what a page shows and sends back.

Words per value stand in data/canonical.json, for the shown attributes in their vocabularies' labels;
places, years, names and numbers are put together here.
"""

import json
from collections.abc import Mapping
from functools import cache

from catalog.domain.said import BY_KEY as SAID
from catalog.resolve.cue import ASKED, Cue, Doubt
from catalog.resolve.reading.words import DATA

_DOUBTS = {Doubt.FIRM: "", Doubt.HEDGED: "maybe ", Doubt.GUESS: "could be "}
_SIDES = {
    "left": "left side", "right": "right side", "centre": "centre", "driver": "driver's side",
    "passenger": "passenger side",
}  # fmt: skip
_ENDS = {
    "front": "front", "front_face": "front face", "front_quarter": "front quarter", "middle": "halfway along",
    "rear_quarter": "rear quarter", "rear_face": "rear face", "rear": "rear",
}  # fmt: skip
_LEVELS = {"under": "underside", "low": "low down", "mid": "waist height", "high": "high up", "roof": "on roof"}


@cache
def phrases() -> Mapping[str, Mapping[str, str]]:
    """Attribute -> value -> phrase."""
    made: Mapping[str, Mapping[str, str]] = json.loads((DATA / "canonical.json").read_text(encoding="utf-8"))
    return made


def canonical(cue: Cue) -> str:
    """ "pickup", "not van", "maybe port left side rear", "other vehicle red"."""
    whose = "" if cue.vehicle == ASKED else "other vehicle "
    said = " or ".join(value_phrase(cue.attribute, value) for value in cue.values)
    if cue.attribute in ("port_place", "other_place"):
        said = f"{'port' if cue.attribute == 'port_place' else 'dent'} {said}"
    return f"{whose}{_DOUBTS[cue.doubt]}{'not ' if cue.denied else ''}{said}"


def value_phrase(attribute: str, value: str) -> str:
    """The phrase of one value."""
    if attribute in ("port_place", "other_place"):
        side, end, level = value.split("|")
        return " ".join(part for part in (_SIDES.get(side), _ENDS.get(end), _LEVELS.get(level)) if part)
    if attribute == "years":
        return value.replace("-", " to ")
    if attribute == "name":
        return _name_phrase(value)
    if attribute == "vin":
        return f"vin {_part(value)}"
    found = phrases().get(attribute, {}).get(value)
    if found is None:
        found = SAID[attribute].label_of(value) if attribute in SAID else value
    return found


def _name_phrase(value: str) -> str:
    if "*" not in value:
        return f"badge says {value}"
    letters = " ".join(value.strip("*").upper())
    if value.startswith("*") and value.endswith("*"):
        return f"badge has the letters {letters} in it"
    return f"badge ends in {letters}" if value.startswith("*") else f"badge starts with {letters}"


def _part(value: str) -> str:
    if "*" not in value:
        return value
    bare = value.strip("*")
    if value.startswith("*"):
        return f"has {bare} in it" if value.endswith("*") else f"ends {bare}"
    return f"starts {bare}"
