"""Stored energy: packs to the class of vehicle, voltage to its architecture, tanks, pyro-fuse."""

from seed_demo.generator.marks import Document, Src, absent, maybe, place, stated
from seed_demo.generator.plan import PLUGGED, Body, Member
from seed_demo.generator.power import capacity, voltage

_CARRIED = 4_000  # Wh: some 25 kg, what may be lifted out by hand; common practice, no source
_PRESSURE = {"cng": 20_000, "lng": 1_000, "lpg": 1_500, "hydrogen": 70_000}


def energy(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    made: Document = {"packs": _packs(member, body, src)}
    if member.propulsion != "combustion":
        made["cables"] = _cables(member, src)
    made["low_voltage"] = _low_voltage(member, body, src)
    if member.propulsion in PLUGGED and body.build != "bike":
        exports = kit.number("exports", 0, 1)
        made["outlets"] = maybe(kit.text("depends"), src) if exports < 0.3 else absent(src)
    live_roof = body.name == "bus" and member.propulsion == "battery"
    made["roof_rails"] = stated(True, src) if live_roof and kit.number("rails", 0, 1) < 0.4 else absent(src)
    made["tanks"] = _tanks(member, body, src)
    fuse = _pyro_fuse(member, body, src)
    return made | ({"pyro_fuse": fuse} if fuse else {})


def _packs(member: Member, body: Body, src: Src) -> list[Document]:
    if member.propulsion == "combustion":
        return []
    kit = member.kit
    large = member.propulsion == "battery"
    if large or kit.number("pack_place", 0, 1) < 0.6:
        where, landmark = ("centre", "middle", "under" if body.build != "bike" else "low"), None
    else:
        where, landmark = ("centre", "rear_quarter", "low"), "under_seat"
    made = {
        "id": "main",
        "role": stated("traction", src),
        "place": place(where, landmark, (0.5, 0.5, 0.9), src),
        "voltage": stated(voltage(member, body), src),
        "capacity": stated(capacity(member, body), src),
        "chemistry": stated(_chemistry(member), src),
        "vents": stated(kit.text("vents"), src),
        "coolant": stated(kit.text("coolant"), src),
        "removable": stated(True, src)
        if large and capacity(member, body) <= _CARRIED and kit.number("lifts", 0, 1) < 0.7
        else absent(src),
    }
    return [made]


def _chemistry(member: Member) -> str:
    if member.propulsion == "hybrid" and member.band < "2020":
        return "nimh"
    found = str(member.kit.habit("chemistry")) if member.propulsion != "hybrid" else "nmc"
    return "lfp" if found == "sodium_ion" and member.band < "2025" else found


def _cables(member: Member, src: Src) -> list[Document]:
    kit = member.kit
    has_bonnet = kit.group in ("car", "work")
    side = "left" if kit.number("cable_side", 0, 1) < 0.5 else "right"
    ends = (
        ("a", (side, "rear_quarter", "under")),
        ("b", ("centre", "front_quarter", "mid")),
        ("c", (side, "middle", "under")),
    )
    rear = "cable_port" if member.propulsion in PLUGGED else "cable_rear"
    texts = tuple(map(kit.text, (rear, "cable_front", "cable_middle")))
    return [
        {
            "id": item,
            "what": stated(text, src),
            "place": place(zone, "under_bonnet" if item == "b" and has_bonnet else None, (0.5, 0.6, 0.9), src),
        }
        for (item, zone), text in zip(ends, texts, strict=True)
    ]


def _low_voltage(member: Member, body: Body, src: Src) -> list[Document]:
    kit = member.kit
    side, end, level, landmark = kit.habit("battery_12v")
    main = {
        "id": "main",
        "voltage": stated(24 if kit.group == "heavy" else 12, src),
        "place": place((side, end, level), landmark, (0.4, 0.5, 0.5), src),
        "chemistry": stated("lead_acid" if member.band < "2025" else "lfp", src),
    }
    made = [main]
    if (
        member.propulsion == "combustion"
        and member.band >= "2015"
        and body.group == "car"
        and kit.number("mild", 0, 1) < 0.25
    ):
        made.append(
            {
                "id": "mild",
                "voltage": stated(48, src),
                "place": place(("centre", "rear_quarter", "low"), "in_boot", (0.5, 0.5, 0.5), src),
                "chemistry": stated("nmc", src),
            }
        )
    return made


def _tanks(member: Member, body: Body, src: Src) -> list[Document]:
    if not member.fuel:
        return []
    kit = member.kit
    side = "left" if kit.number("tank_side", 0, 1) < 0.5 else "right"
    on_roof = body.name == "bus" and member.fuel in _PRESSURE
    zone = (side, "middle", "roof") if on_roof else (side, "rear_quarter", "low")
    made: Document = {
        "id": "main",
        "fuel": stated(member.fuel, src),
        "place": place(zone, None, (0.4, 0.6, 0.4), src),
        "vent": stated(kit.text("tank_vent"), src),
        "shut_off": stated(kit.text("shut_off"), src),
    }
    if member.fuel in _PRESSURE:
        made["pressure"] = stated(_PRESSURE[member.fuel], src)
        made["closes_at_off"] = stated(True, src)
    return [made]


def _pyro_fuse(member: Member, body: Body, src: Src) -> Document:
    """Common from the later 2010s; what it does to the port is said only of what has one."""
    kit = member.kit
    if member.propulsion == "combustion" or body.build == "bike":
        return {}
    if kit.number("pyro", 0, 1) > (0.8 if member.band >= "2020" else 0.35):
        return {"fitted": absent(src)}
    made: Document = {
        "fitted": stated(True, src),
        "trigger": stated(kit.habit("trigger"), src),
        "separates": stated(kit.habit("separates"), src),
    }
    if member.propulsion in PLUGGED:
        made["port_effect"] = stated(kit.habit("port_effect"), src)
    return made
