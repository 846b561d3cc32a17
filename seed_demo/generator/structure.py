"""Structure: where not to cut or push, where to lift, glazing by pane."""

from seed_demo.generator.marks import Document, Src, place, stated
from seed_demo.generator.plan import Body, Member

_EDGE = {"left": 0.08, "right": 0.92}


def structure(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    push = kit.text("never_push_why_engine" if member.propulsion == "combustion" else "never_push_why")
    if body.build == "bike":
        return {"never_push": [_zone("pack", ("centre", "middle", "low"), None, push, member, src)]}
    made: Document = {
        "no_cut": [
            *_both("pillar", ("middle", "high"), "in_pillar", kit.text("no_cut_why"), member, src),
            *_both("foot", ("middle", "low"), "in_pillar", "Pretensioner", member, src),
        ],
        "never_push": [
            *_both("sill", ("middle", "low"), "in_sill", push, member, src),
            _zone("floor", ("centre", "middle", "under"), None, push, member, src),
        ],
        "strong": [
            {**entry, "material": stated(kit.habit("strong"), src)}
            for entry in _both("pillar", ("middle", "high"), "in_pillar", None, member, src)
        ],
        "lift": [
            *_both("front", ("front_quarter", "under"), "on_frame", kit.text("lift_why"), member, src),
            *_both("rear", ("rear_quarter", "under"), "on_frame", kit.text("lift_why"), member, src),
        ],
        "strut": _both("frame", ("rear_quarter", "under"), "on_frame", None, member, src),
        "ram": _both("foot", ("front_quarter", "low"), "in_pillar", kit.text("ram_why"), member, src),
        "glazing": _glazing(member, body, src),
    }
    return made


def _both(item: str, zone: tuple[str, str], landmark: str, why: str | None, member: Member, src: Src) -> list[Document]:
    return [_zone(f"{item}{side[0]}", (side, *zone), landmark, why, member, src) for side in ("left", "right")]


def _zone(
    item: str, zone: tuple[str, str, str], landmark: str | None, why: str | None, member: Member, src: Src
) -> Document:
    along = member.kit.number(f"{item}_along", 0.2, 0.8)
    made: Document = {"id": item, "place": place(zone, landmark, (along, _EDGE.get(zone[0], 0.5), 0.5), src)}
    if why is not None:
        made["why"] = stated(why, src)
    return made


def _glazing(member: Member, body: Body, src: Src) -> list[Document]:
    panes = [("screen", "windscreen", "laminated"), ("front", "front_side", member.kit.habit("side_glass"))]
    if body.group == "car" and body.rows > 1:
        panes.append(("rear", "rear_side", "tempered"))
    if body.name != "lorry":
        panes.append(("back", "rear", "polycarbonate" if body.roof == "soft" else "tempered"))
    if body.roof == "glass":
        panes.append(("roof", "roof", "laminated"))
    return [{"id": item, "pane": stated(pane, src), "glass": stated(glass, src)} for item, pane, glass in panes]
