"""Fire, water, towing and storage; and what heavy and two-wheeled vehicles have besides."""

from seed_demo.generator.marks import Document, Src, absent, maybe, other_flank, place, stated
from seed_demo.generator.motion import suspension
from seed_demo.generator.plan import Body, Member


def aftermath(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    made: Document = {}
    if member.propulsion != "combustion":
        made["pack_water"] = stated(kit.text("pack_water"), src)
        made["venting_signs"] = stated(kit.text("venting_signs"), src)
        made["reignition_watch"] = stated(kit.habit("watch"), src)
        made["salt_water"] = stated(kit.habit("salt_water"), src)
    made["wheels_turning"] = stated(
        "walking_pace" if member.propulsion == "combustion" else kit.habit("wheels_turning"), src
    )
    made["stand_off"] = stated(kit.habit("stand_off"), src)
    if body.build != "bike":
        side, end, level, landmark = kit.habit("tow_eye")
        made["tow_eye"] = place((side, end, level), landmark, (0.4, 0.5, 0.5), src)
    made["about"] = stated(kit.text("after_about"), src)
    return made


def heavy(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    if body.build == "bike":
        return {"driven_wheel": place(("centre", "rear_quarter", "low"), None, (0.5, 0.5, 0.5), src)}
    large = body.group == "heavy"
    made: Document = {
        "air_brakes": stated(True, src) if large else absent(src),
        "air_suspension": suspension(member, body, src),
        "tilting_cab": stated(True, src) if body.name == "lorry" else absent(src),
    }
    if not large:
        return made
    side = "left" if kit.number("switch_side", 0, 1) < 0.5 else "right"
    made["switches"] = [
        {
            "id": "outside",
            "place": place((side, "front_quarter", "mid"), "behind_panel", (0.7, 0.1, 0.5), src),
            "does": stated(kit.text("switch_does"), src)
            if member.propulsion != "combustion"
            else stated(kit.text("switch_does_engine"), src),
        }
    ]
    if body.name == "bus":
        made["door_air_release"] = stated(kit.text("door_air_release"), src)
        if len(member.region.steering) == 1:
            kerb = other_flank(member.region.steering[0])
            made["door_air_release_place"] = place((kerb, "front_quarter", "mid"), None, (0.3, 0.1, 0.9), src)
        made["powered_body"] = maybe("ramp option", src) | {"value": kit.text("powered_bus")}
    else:
        made["powered_body"] = maybe("tail lift", src) | {"value": kit.text("powered_lorry")}
    return made
