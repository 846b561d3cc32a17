"""Figures of traction packs: energy to the class of vehicle, voltage to its architecture."""

from seed_demo.generator.plan import Body, Member
from seed_demo.generator.ports import coupler_standards

# Traction energy in Wh by propulsion and class; nominal V likewise. Common practice, no source.
_LIGHT_ENERGY = {
    "small": (24_000, 46_000), "medium": (42_000, 72_000), "large": (66_000, 102_000), "very_large": (88_000, 140_000),
}  # fmt: skip
_ENERGY = {
    ("battery", "heavy"): (180_000, 480_000), ("battery", "bike"): (2_500, 16_000),
    ("battery", "micro"): (4_500, 14_000),
    ("plug_in_hybrid", "light"): (8_500, 24_000), ("plug_in_hybrid", "heavy"): (30_000, 90_000),
    ("hybrid", "light"): (900, 1_900), ("hybrid", "heavy"): (4_000, 22_000),
    ("fuel_cell", "light"): (1_100, 9_000), ("fuel_cell", "heavy"): (24_000, 120_000),
}  # fmt: skip
_VOLTAGE = {
    ("battery", "light"): (320, 410), ("battery", "heavy"): (540, 592), ("battery", "bike"): (48, 130),
    ("battery", "micro"): (48, 96), ("plug_in_hybrid", "light"): (290, 390), ("plug_in_hybrid", "heavy"): (520, 590),
    ("hybrid", "light"): (140, 300), ("hybrid", "heavy"): (300, 590), ("fuel_cell", "light"): (240, 390),
    ("fuel_cell", "heavy"): (540, 590),
}  # fmt: skip
_BY_YEARS = {"2010": 0.55, "2015": 0.75, "2020": 1.0, "2025": 1.0}  # packs of cars grew
_HIGH = (620, 820)  # the 800 V class, where the coupler allows it
_ALLOWS_HIGH = {"ccs2", "j3400", "gbt_dc", "mcs"}


def kind(body: Body) -> str:
    """The class that energy and voltage go by."""
    if body.name == "microcar":
        return "micro"
    return body.group if body.group != "car" else "light"


def voltage(member: Member, body: Body) -> int:
    """Nominal V of the traction pack: 800 V class only with a coupler that is rated for it."""
    kit = member.kit
    share = kit.number("volts", 0, 1)
    new = member.band >= "2020" and kind(body) in ("light", "heavy") and member.propulsion == "battery"
    if new and _ALLOWS_HIGH.issuperset(coupler_standards(member, body)[:1]) and kit.number("class", 0, 1) < 0.3:
        low, high = _HIGH
    else:
        low, high = _VOLTAGE[member.propulsion, kind(body)]
    return int(low + (high - low) * share)


def capacity(member: Member, body: Body) -> int:
    key = kind(body)
    low, high = (
        _LIGHT_ENERGY[body.size]
        if (member.propulsion, key) == ("battery", "light")
        else _ENERGY[member.propulsion, key]
    )
    years = _BY_YEARS[member.band] if (member.propulsion, key) == ("battery", "light") else 1.0
    return int(years * (low + (high - low) * member.kit.number("energy", 0, 1))) // 100 * 100
