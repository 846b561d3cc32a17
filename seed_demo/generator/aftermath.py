"""Fire, water, towing and storage; and what heavy and two-wheeled vehicles have besides."""

from seed_demo.generator.marks import Document, Src, absent, maybe, place, stated
from seed_demo.generator.motion import suspension
from seed_demo.generator.plan import Body, Member


def aftermath(member: Member, fire: Src, towing: Src) -> Document:
    """fire, towing: the pages of the two topics."""
    kit = member.kit
    made: Document = {}
    if member.propulsion != "combustion":
        made["pack_water"] = stated(kit.text("pack_water"), fire)
        made["venting_signs"] = stated(kit.text("venting_signs"), fire)
        made["reignition_watch"] = stated(kit.habit("watch"), fire)
        made["salt_water"] = stated(kit.habit("salt_water"), fire)
    made["wheels_turning"] = stated(
        "walking_pace" if member.propulsion == "combustion" else kit.habit("wheels_turning"), towing
    )
    made["stand_off"] = stated(kit.habit("stand_off"), towing)
    side, end, level, landmark = kit.habit("tow_eye")
    made["tow_eye"] = place((side, end, level), landmark, (0.4, 0.5, 0.5), towing)
    made["about"] = stated(kit.text("after_about"), fire)
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
            "does": stated(kit.fill("{button}: opens the contactors; the pack stays live"), src)
            if member.propulsion != "combustion"
            else stated("Stops the pump and the engine", src),
        }
    ]
    if body.name == "bus":
        made["door_air_release"] = stated(
            kit.fill("{colour} {lid} beside the door: turn the valve, push the leaves apart"), src
        )
        made["door_air_release_place"] = place((side, "front_quarter", "mid"), None, (0.3, 0.1, 0.9), src)
        made["powered_body"] = maybe("ramp option", src) | {"value": "Ramp at the second door folds out by power"}
    else:
        made["powered_body"] = maybe("tail lift", src) | {
            "value": kit.fill("Tail lift, {colour} box at the rear; may lower by itself")
        }
    return made
