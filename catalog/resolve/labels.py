"""Cues and signatures in words: what was understood, what a record says about it."""

from collections.abc import Mapping
from typing import Any

from catalog.domain.places import END, LEVEL, SIDE
from catalog.domain.said import BY_KEY as SAID
from catalog.domain.vin import vehicle_part
from catalog.resolve.cue import ASKED, RECORD, Cue, Doubt
from catalog.resolve.lexicon import LEVELS
from catalog.resolve.likelihood import vocabulary_of
from catalog.resolve.names import lexicon_of
from catalog.resolve.tables import Tables
from catalog.resolve.truth import NO_PORT, Signature

ATTRIBUTE_LABEL = {
    "body": "body", "size": "size", "doors": "doors", "propulsion": "propulsion", "years": "model year",
    "name": "name", "port_place": "charge port", "connector": "connector", "door_mechanism": "port door",
    "port_cover": "port covered by", "selector": "selector", "front_face": "front face",
    "front_lamps": "front lamps", "rear_lamps": "rear lamps", "tailpipe": "tailpipe", "roof": "roof",
    "handles": "door handles", "category": "category", "vin": "VIN", "colour": "colour", "fuel": "fuel",
    "scene": "scene", "other_place": "place, not the port", "rows": "rows of seats", "marking": "marking",
    "wheels": "wheels", "cable": "charging cable", "start": "started by", "screen": "screen",
}  # fmt: skip

_LAY = {"front": "front", "rear": "rear", "driver": "driver's side", "passenger": "passenger side", "": ""}


def cue_label(cue: Cue, tables: Tables) -> str:
    """ "body pickup", "charge port left rear", "not body van", "perhaps make near Kelvik", "other vehicle body bus"."""
    denied = "not " if cue.denied else ""
    hedged = "" if cue.doubt is Doubt.FIRM else "perhaps "
    other = "" if cue.vehicle == ASKED else "other vehicle "
    return f"{other}{denied}{hedged}{_said(cue, tables)}".strip()


def _said(cue: Cue, tables: Tables) -> str:
    if cue.attribute == "name":
        return _name_words(cue, tables)
    if cue.attribute == RECORD:
        return f"this vehicle: {' or '.join(_title(code, tables) for code in cue.values)}"
    return f"{ATTRIBUTE_LABEL[cue.attribute]} {' or '.join(value_words(cue.attribute, v) for v in cue.values)}"


def _title(code: str, tables: Tables) -> str:
    codes = tables.meta["codes"]
    return str(tables.meta["titles"][codes.index(code)]) if code in codes else code


def _name_words(cue: Cue, tables: Tables) -> str:
    """A name is given as the listed one it is nearest to."""
    if any("*" in value for value in cue.values):
        return f"name {' or '.join(fragment_words(value) for value in cue.values)}"
    near = lexicon_of(tables).near(cue.values[0])
    if not near:
        return f"name {cue.heard}: none like it here"
    kind = "name" if near[0].name.kind == "other" else near[0].name.kind
    return f"{kind} {'' if near[0].level == LEVELS[0] else 'near '}{near[0].name.shown}"


def fragment_words(value: str) -> str:
    """ "b*" -> "begins with B"."""
    part = value.strip("*").upper()
    if not value.startswith("*"):
        return f"begins with {part}"
    return f"has {part} in it" if value.endswith("*") else f"ends in {part}"


def value_words(attribute: str, value: str) -> str:
    """One value of an attribute in words."""
    if attribute in ("port_place", "other_place"):
        side, end, level = value.split("|")
        parts = (_part(SIDE, side), _part(END, end), _part(LEVEL, level))
        return " ".join(part for part in parts if part)
    if attribute == "tailpipe":
        return {"yes": "in view", "none": "none"}.get(value, value)
    if attribute in SAID:
        return SAID[attribute].label_of(value)
    if attribute == "vin":
        return vehicle_part(value)  # of a VIN only this much is ever sent back
    if attribute == "years":
        return value.replace("-", "–")
    vocabulary = vocabulary_of(attribute)
    return value if vocabulary is None else vocabulary.label_of(value)


def truth_words(attribute: str, signature: Signature) -> str:
    """What a record says about an attribute: "right front quarter", "not stated"."""
    if signature is None:
        return "not stated"
    if signature == NO_PORT:
        return "nothing to plug in"
    if attribute == "port_place":
        return " and ".join(_place_words(place) for place in signature["places"])
    if attribute == "years":
        return _years_words(signature)
    return " or ".join(value_words(attribute, str(value)) for value in signature)


def _place_words(place: list[str]) -> str:
    return f"{SIDE.label_of(place[0])} {END.label_of(place[1])}"


def _years_words(signature: list[Any]) -> str:
    first, last = signature
    if last is None:
        return f"{first} on"
    return str(first) if first == last else f"{first}–{last}"


def _part(vocabulary: Any, key: str) -> str:
    lay: Mapping[str, str] = _LAY
    return lay[key] if key in lay else str(vocabulary.label_of(key))
