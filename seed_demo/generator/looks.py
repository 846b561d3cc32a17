"""Looks, and the badges that tell look-alikes apart."""

from seed_demo.generator.draws import pick
from seed_demo.generator.marks import Document, Src, absent, place, stated
from seed_demo.generator.plan import BURNING, Body, Member
from seed_demo.generator.tables import table

_TELLTALE = {
    "battery": "no exhaust, {face}, {badge}",
    "plug_in_hybrid": "an exhaust and a second lid, {badge}",
    "hybrid": "{badge}, an exhaust, one lid only",
    "fuel_cell": "no exhaust but a drip pipe, {badge}",
    "combustion": "an exhaust, {badge}",
}
_FACE = {
    "closed_panel": "blank front", "lower_intake": "mouth low in the bumper", "slats": "slatted front",
    "split": "front in two parts", "open_grille": "open grille", "flat_glass": "glass front",
}  # fmt: skip
# Rims in inches by class and size; common practice, no source.
_INCHES = {
    ("microcar", "small"): (12, 14), ("car", "small"): (14, 17), ("car", "medium"): (16, 19),
    ("car", "large"): (17, 21), ("car", "very_large"): (18, 22), ("heavy", "large"): (17, 20),
    ("heavy", "very_large"): (20, 22), ("bike", "small"): (14, 18), ("bike", "medium"): (17, 21),
}  # fmt: skip
_ROLE = {"facelift": ", lamps of the second series", "stretched": ", a longer rear door", "taxi": ", roof sign"}


def looks(member: Member, body: Body, model: str, src: Src) -> Document:
    kit = member.kit
    made: Document = {"body": stated(body.name, src), "doors": stated(body.doors, src), "size": stated(body.size, src)}
    length = body.length + (140 if member.role == "stretched" else 0)
    made["length"] = stated(length, src)
    made["width"] = stated(body.width, src)
    made["height"] = stated(body.height + (0 if member.propulsion != "battery" else 12), src)
    if body.build != "bike":
        made["front_face"] = stated(_face(member), src)
    made["front_lamps"] = stated("single" if body.build == "bike" else kit.habit("front_lamps"), src)
    made["rear_lamps"] = stated("single" if body.build == "bike" else kit.habit("rear_lamps"), src)
    made["tailpipe"] = _tailpipe(member, body, src)
    made["roof"] = stated("rack" if member.role == "taxi" else body.roof, src)
    made["wheels"] = stated(_wheels(member, body), src)
    if body.build != "bike":
        made["handles"] = stated(kit.habit("handles") if body.group == "car" else "pull", src)
    if member.role == "taxi":
        made["colours"] = stated(pick(kit.draw, table("habits")["taxi_colours"]), src)
    made["telltale"] = stated(_telltale(member), src)
    made["badges"] = _badges(member, model, src)
    return made


def drive_name(member: Member) -> str:
    """What the make calls this drive: "Plug", "22D"."""
    key = member.fuel if member.propulsion == "combustion" else member.propulsion
    return str(member.kit.make.habits["names"][key])


def _wheels(member: Member, body: Body) -> str:
    """Rims to the size of the vehicle."""
    low, high = _INCHES[body.group if body.name != "microcar" else "microcar", body.size]
    inches = low + int((high - low + 1) * member.kit.number("inches", 0, 0.99))
    return f"{inches} inch{member.kit.text('wheels')}"


def _face(member: Member) -> str:
    kit = member.kit
    if member.propulsion == "battery" or kit.group in ("heavy", "bike"):
        return str(kit.habit("front_face"))
    return "open_grille" if kit.number("grille", 0, 1) < 0.7 else "slats"


def _tailpipe(member: Member, body: Body, src: Src) -> Document:
    if member.propulsion not in BURNING:
        return absent(src)
    side = "left" if member.kit.number("pipe", 0, 1) < 0.5 else "right"
    if body.build == "bike":
        return place((side, "rear_quarter", "low"), None, (0.4, 0.7, 0.5), src)
    return place((side, "rear_face", "low"), None, (0.6, 0.6, 0.2), src)


def _telltale(member: Member) -> str:
    face = _FACE[_face(member)]
    text = _TELLTALE[member.propulsion].format(face=face, badge=f"{drive_name(member).upper()} on a plate")
    return f"{text[:1].upper()}{text[1:]}{_ROLE.get(member.role, '')}"


def _badges(member: Member, model: str, src: Src) -> list[Document]:
    side, end, level = member.kit.habit("badge_place")
    made = [
        {
            "id": "name",
            "text": stated(model.upper(), src),
            "place": place((side, end, level), None, (0.7, 0.5, 0.6), src),
        }
    ]
    side, end, level = member.kit.habit("drive_badge_place")
    made.append(
        {
            "id": "drive",
            "text": stated(drive_name(member).upper(), src),
            "place": place((side, end, level), None, (0.5, 0.05 if side == "left" else 0.95, 0.4), src),
        }
    )
    return made
