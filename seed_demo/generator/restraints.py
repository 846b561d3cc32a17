"""Restraints to the class and the years of the vehicle."""

from seed_demo.generator.marks import Document, Src, absent, maybe, other_flank, place, stated
from seed_demo.generator.plan import Body, Member

# id, kind, level, landmark, share along the middle zone, first band with it; both sides unless "@".
_SIDES = (
    ("side", "side", "mid", "in_seat", 0.35, "2010"),
    ("curtain", "curtain", "roof", "roof_rail", 0.4, "2010"),
    ("knee", "knee", "mid", "in_dash", 0.02, "2020"),
)
_PAIR = ("left", "right")
_DEPTH = {"left": 0.25, "right": 0.75}


def restraints(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    if body.build == "bike":
        return {"about": stated("No airbag on the machine; a rider's vest may hold a gas cartridge", src)}
    made: Document = {"airbags": list(_airbags(member, body, src))}
    if body.has_curtains:
        made["inflators"] = _pair("rail", ("middle", "roof"), "roof_rail", 0.85, src)
        for entry in made["inflators"]:
            entry["kind"] = stated("stored_gas" if kit.number("gas", 0, 1) < 0.7 else "hybrid", src)
    made["pretensioners"] = _pair("front", ("middle", "low"), "in_pillar", 0.45, src)
    if body.group == "car" and body.rows > 1:
        made["pretensioners"] += _pair("rear", ("middle", "low"), "behind_trim", 0.9, src)
    if body.group == "car":
        made["gas_struts"] = _pair("bonnet", ("front_quarter", "high"), "under_bonnet", 0.5, src)
        made["active_bonnet"] = maybe(kit.text("depends"), src) if kit.number("bonnet_up", 0, 1) < 0.3 else absent(src)
        open_top = body.name == "convertible"
        made["pop_up_bar"] = stated(True, src) if open_top and kit.number("bar", 0, 1) < 0.5 else absent(src)
    made["control_unit"] = place(("centre", "middle", "low"), None, (0.15, 0.5, 0.5), src)
    made["wait"] = stated(kit.habit("restraint_wait"), src)
    made["about"] = stated(kit.text("restraints_about"), src)
    return made


def _airbags(member: Member, body: Body, src: Src) -> list[Document]:
    made = _front(member, src)
    if body.group == "heavy" or body.name == "microcar":
        return made[:1]
    for item, kind, level, landmark, along, since in _SIDES:
        if member.band < since:
            continue
        if item == "curtain" and not body.has_curtains:
            continue
        if item == "knee" and member.kit.number("knees", 0, 1) > 0.4:
            continue
        for entry in _pair(item, ("middle", level), landmark, along, src):
            entry["kind"] = stated(kind, src)
            made.append(entry)
    if member.band >= "2020" and member.kit.number("between", 0, 1) < 0.35:
        where = place(("centre", "middle", "mid"), "in_seat", (0.35, 0.4, 0.7), src)
        made.append({"id": "between", "kind": stated("centre", src), "place": where})
    return made


def _front(member: Member, src: Src) -> list[Document]:
    """Driver's and passenger's; where it is built with the wheel on either side, without places."""
    stages = stated(2 if member.band >= "2015" else 1, src)
    made: list[Document] = [
        {"id": item, "kind": stated(kind, src), "stages": stages}
        for item, kind in (("driver", "driver"), ("pass", "passenger"))
    ]
    if len(member.region.steering) == 1:
        wheel = member.region.steering[0]
        other = other_flank(wheel)
        made[0]["place"] = place((wheel, "middle", "high"), None, (0.05, _DEPTH[wheel], 0.2), src)
        made[1]["place"] = place((other, "front_quarter", "high"), "in_dash", (0.9, _DEPTH[other], 0.2), src)
    return made


def _pair(item: str, zone: tuple[str, str], landmark: str, along: float, src: Src) -> list[Document]:
    """One on each side."""
    return [
        {"id": f"{item}{side[0]}", "place": place((side, *zone), landmark, (along, _DEPTH[side], 0.5), src)}
        for side in _PAIR
    ]
