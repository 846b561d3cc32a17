"""Charge ports: where the make puts them, and the coupler of the market and the years."""

from typing import Any

from catalog.domain.connectors import BY_KEY as CONNECTORS
from seed_demo.generator.marks import Document, Src, absent, place, stated
from seed_demo.generator.plan import PLUGGED, Body, Member

_MEGAWATT = ("europe", "north_america", "china")
_OWN_BELOW = 0.4  # share of two-wheelers with the maker's own coupler


def ports(member: Member, body: Body, src: Src) -> list[Document]:
    """The ports; none for what cannot be plugged in."""
    if member.propulsion not in PLUGGED:
        return []
    standards = coupler_standards(member, body)
    zone = tuple(member.kit.habit("port"))
    if member.role == "market" and zone[0] != "centre" and member.kit.number("moves", 0, 1) < 0.3:
        zone = ({"left": "right", "right": "left"}[zone[0]], *zone[1:])
    made = [_port(member, "a", standards[0], zone, src)]
    made += [_port(member, "b", other, _beside(zone), src) for other in standards[1:]]
    return made


def coupler_standards(member: Member, body: Body) -> tuple[str, ...]:
    """The standards of the vehicle's ports, the main one first."""
    region = member.region
    if body.group == "bike" or body.name == "microcar":
        return ("own",) if member.kit.number("own", 0, 1) < _OWN_BELOW else (region.ac,)
    if body.group == "heavy":
        heavy = region.large(member.band)
        megawatt = body.name == "lorry" and member.band >= "2025" and region.key in _MEGAWATT
        return ("mcs", heavy) if megawatt else (heavy,)
    if member.propulsion == "plug_in_hybrid":
        return (region.ac,)
    main = region.main(member.band)
    return (main, region.ac) if main in ("chademo", "gbt_dc") else (main,)


def opening_words(mechanism: str) -> str:
    """The wordings for opening such a door without 12 V."""
    return f"without_12v_{mechanism.split('_')[0]}"


def _beside(zone: tuple[Any, ...]) -> tuple[Any, ...]:
    """Where a second port sits: the other flank, or the other half of the same face."""
    side = {"left": "right", "right": "left", "centre": "left"}[zone[0]]
    cover = ("flap", "pull_edge") if zone[4] in ("badge", "plate", "lamp") else zone[4:6]
    landmark = None if zone[3] in ("behind_badge", "behind_plate", "in_lamp") else zone[3]
    return (side, zone[1], zone[2], landmark, *cover)


def _port(member: Member, item: str, standard: str, zone: tuple[Any, ...], src: Src) -> Document:
    kit = member.kit
    side, end, level, landmark, cover, mechanism = zone
    depth = {"left": 0.04, "right": 0.96}.get(side, 0.5)
    made: Document = {
        "id": item,
        "standard": stated(standard, src),
        "current": stated("_".join(sorted(CONNECTORS[standard].currents)) if standard != "own" else "ac", src),
        "place": place((side, end, level), landmark, (kit.number("port_x", 0.1, 0.9), depth, 0.6), src),
        "cover": stated(cover, src),
        "door": {"mechanism": stated(mechanism, src)},
    }
    if mechanism != "cap":
        made["door"]["without_12v"] = stated(kit.text(opening_words(mechanism)), src)
        made["door"]["wedge"] = stated(kit.text("wedge"), src)
    if standard in ("own", "type1") and kit.number("locks", 0, 1) < 0.5:
        made["lock"] = {"fitted": absent(src)}
    else:
        made["lock"] = {"fitted": stated(True, src), "release": stated(kit.text("release"), src)}
    made["wakes"] = stated(kit.habit("wakes"), src)
    return made
