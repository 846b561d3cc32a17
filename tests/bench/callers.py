"""Noisy descriptions of generated records, for measuring at size only.

Plain words for a few of the things a record says, some of them wrong, names misheard. It is fitted
to nothing and says nothing about how well anything finds what is meant.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

Document = Mapping[str, Any]

BODIES = {
    "hatchback": ("hatchback", "hatch", "small car"), "saloon": ("saloon", "sedan", "four door car"),
    "estate": ("estate", "wagon"), "suv": ("suv", "4x4", "off-roader"), "coupe": ("coupe", "sports car"),
    "convertible": ("convertible", "soft top"), "pickup": ("pickup", "ute", "p/u"), "van": ("van", "panel van"),
    "people_carrier": ("people carrier", "minivan"), "bus": ("bus", "coach"), "lorry": ("lorry", "box truck"),
    "motorcycle": ("motorbike", "motorcycle"), "microcar": ("tiny two seater", "microcar"),
}  # fmt: skip
CONFUSED = {"hatchback": "suv", "saloon": "hatchback", "estate": "suv", "suv": "estate", "pickup": "suv", "van": "bus"}
ENDS = {
    "front_face": ("in the nose", "at the front"), "front_quarter": ("front wing", "by the front wheel"),
    "middle": ("in the middle",), "rear_quarter": ("rear", "by the back wheel", "rear quarter"),
    "rear_face": ("at the back", "in the tail"),
}  # fmt: skip
DRIVES = {
    "battery": ("electric", "all electric", "EV"), "plug_in_hybrid": ("plug-in hybrid", "plugs in but has an engine"),
    "hybrid": ("hybrid",), "fuel_cell": ("hydrogen", "fuel cell"), "combustion": ("petrol", "diesel", "normal engine"),
}  # fmt: skip
LAMPS = {
    "strip": "light strip right across", "pair_slim": "slim lights", "pair_round": "round lights",
    "pair_square": "square lights", "pair_tall": "tall lights", "pixels": "square dots for lights",
}  # fmt: skip
COLOURS = ("white", "black", "silver", "grey", "blue", "red", "green", "WHI", "BLK", "yellow")
ASIDE = ("smoke coming from underneath", "two people in it", "on its side", "at the junction", "caller is passing by",
         "no idea what it is", "hit the wall", "driver is out")  # fmt: skip
LETTERS = "abcdefghijklmnoprstuvwy"


def descriptions(documents: Sequence[Document], count: int, seed: int) -> list[str]:
    """`count` descriptions of records drawn with repeats; the same for the same arguments."""
    draw = random.Random(f"callers/{seed}")
    return [describe(draw.choice(documents), draw) for _ in range(count)]


def describe(document: Document, draw: random.Random) -> str:
    """What a caller might say of one record: about five things, one in ten of them wrong."""
    parts = [part for part in _parts(document, draw) if part]
    draw.shuffle(parts)
    return ", ".join(parts) or "some sort of car"


def _parts(document: Document, draw: random.Random) -> Iterator[str]:
    identity, looks = document["identity"], document["looks"]
    body = looks["body"]["value"]
    said = CONFUSED.get(body, body) if draw.random() < 0.1 else body
    colour = f"{draw.choice(COLOURS)} " if draw.random() < 0.5 else ""
    yield colour + (draw.choice(BODIES[said]) if draw.random() < 0.9 else "car")
    if draw.random() < 0.6:
        yield _port(document.get("ports", ()), draw)
    for key, chance in (("make", 0.5), ("model", 0.35)):
        if draw.random() < chance:
            yield misheard(identity[key], draw) if draw.random() < 0.35 else identity[key]
    if draw.random() < 0.4:
        yield draw.choice(DRIVES[identity["propulsion"]])
    if draw.random() < 0.25:
        yield f"about {identity['years']['from'] + draw.randint(-1, 2)}"
    if draw.random() < 0.15 and "doors" in looks:
        yield f"{looks['doors']['value']} doors"
    lamps = looks.get("rear_lamps", {}).get("value")
    if draw.random() < 0.15 and lamps in LAMPS:
        yield f"{LAMPS[lamps]} at the back"
    if draw.random() < 0.4:
        yield draw.choice(ASIDE)


def _port(ports: Sequence[Document], draw: random.Random) -> str:
    """Where it plugs in; turned round one time in ten."""
    fact = ports[0].get("place", {}) if ports else {}
    if "value" not in fact:
        return ""
    side, end = fact["value"]["side"], draw.choice(ENDS[fact["value"]["end"]])
    if draw.random() < 0.1:
        side = {"left": "right", "right": "left"}.get(side, side)
    side = "" if side == "centre" else f"{side} "
    return draw.choice((f"port {side}{end}", f"plugs in {side}{end}", f"charge flap {side}{end}"))


def misheard(name: str, draw: random.Random) -> str:
    """One letter left out, swapped with the next, or another."""
    at = draw.randrange(1, len(name) - 1)
    return draw.choice(
        (
            name[:at] + name[at + 1 :],
            name[:at] + name[at + 1] + name[at] + name[at + 2 :],
            name[:at] + draw.choice(LETTERS) + name[at + 1 :],
        )
    )
