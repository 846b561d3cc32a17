"""What is burnt and what is plugged in, put together: an exhaust beside a charge flap is a plug-in hybrid.

"petrol as well", "fill it and plug it in" and a tailpipe on what has a charge port say it without the word.
A drive that is named stands. "No plug" denies whatever plugs in and leaves the rest as said.
"""

from collections.abc import Set
from dataclasses import replace

from catalog.resolve.cue import Doubt
from catalog.resolve.reading.mention import Mention, Mentions, Text

PLUGGED = ("battery", "plug_in_hybrid")
_PLUGLESS = {"hybrid", "combustion", "fuel_cell"}
_ENGINE = ("combustion", "hybrid", "plug_in_hybrid")
_SILENT = {"battery", "fuel_cell"}
_BURNT = frozenset(("petrol", "diesel"))
# "an electric one, rebuilt to burn petrol": what it was made into stands.
_MADE_OVER = frozenset(("rebuilt", "burn", "changed", "fitted"))
_CHARGED = frozenset(
    ("charge", "charging", "charger", "plug", "socket", "inlet", "connector", "coupler", "ccs", "chademo", "port",
     "pin", "hole", "recharge", "plugged", "type")
)  # fmt: skip


def drives(text: Text, mentions: Mentions) -> Mentions:
    """The mentions with what the rest of them says of the drive."""
    made = [
        replace(m, values=PLUGGED, denied=True) if m.attribute == "propulsion" and set(m.values) == _PLUGLESS else m
        for m in mentions
    ]
    for vehicle in sorted({m.vehicle for m in made}):
        made = _burning_alone(_plugged_and_burning(text, made, vehicle), vehicle)
    return made


def _burning_alone(mentions: Mentions, vehicle: str) -> Mentions:
    """ "a CNG sticker": what is burnt says that it burns, where nothing is said of the drive."""
    own = [m for m in mentions if m.vehicle == vehicle]
    if any(m.attribute == "propulsion" for m in own):
        return mentions
    fuel = next((m for m in own if m.attribute == "fuel" and not m.denied and "hydrogen" not in m.values), None)
    if fuel is None:
        return mentions
    drive = replace(fuel, attribute="propulsion", values=("combustion",), weak=True).doubted(Doubt.HEDGED)
    return [*mentions, drive]


def _plugged_and_burning(text: Text, mentions: Mentions, vehicle: str) -> Mentions:
    own = [m for m in mentions if m.vehicle == vehicle and not m.denied]
    burning = next((m for m in own if _burns(m)), None)
    made_over = [m for m in own if m.attribute == "propulsion" and _says(text, m, _MADE_OVER)]
    if made_over:
        return [m for m in mentions if m not in own or m.attribute != "propulsion" or m in made_over]
    named = [m for m in own if m.attribute == "propulsion"]
    silent = [m for m in named if set(m.values) == _SILENT and m.weak]
    fuelled = burning is not None and burning.attribute == "fuel" and not any(_charges(text, m) for m in own)
    if burning is not None and fuelled and silent and all(m.weak or m.start == burning.start for m in named):
        # "diesel, pulls off silent": now the one, now the other.
        both = replace(silent[0], values=("hybrid", "plug_in_hybrid"), weak=False)
        return [*(m for m in mentions if m not in named), both]
    if burning is None or not any(_charges(text, m) for m in own):
        return mentions
    if any("plug_in_hybrid" not in m.values for m in named if not m.weak):
        return mentions
    if any(m.attribute == "propulsion" and m.denied and m.vehicle == vehicle for m in mentions):
        return mentions
    both = Mention(
        "propulsion", ("plug_in_hybrid",), burning.start, burning.end, Doubt.HEDGED, also=burning.also, vehicle=vehicle
    )
    return [*(m for m in mentions if m not in named), both]


def _burns(mention: Mention) -> bool:
    if mention.attribute == "tailpipe":
        return mention.values == ("yes",)
    if mention.attribute == "propulsion":
        return mention.values == _ENGINE
    return mention.attribute == "fuel" and set(mention.values) <= _BURNT


def _charges(text: Text, mention: Mention) -> bool:
    """Something that is plainly there to charge: a flap alone may be the petrol's."""
    if mention.attribute == "propulsion" and mention.values == PLUGGED:
        return True
    if mention.attribute in ("connector", "door_mechanism", "port_cover"):
        return mention.attribute == "connector" or _says_charge(text, mention)
    return mention.attribute in ("@port", "port_place") and _says_charge(text, mention)


def _says_charge(text: Text, mention: Mention) -> bool:
    return _says(text, mention, _CHARGED)


def _says(text: Text, mention: Mention, among: Set[str]) -> bool:
    return any(text.words[at].key in among for start, end in mention.ranges for at in range(start, end))
