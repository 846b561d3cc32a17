"""Access: doors, bonnet and tailgate without power; windows, seat, column."""

from seed_demo.generator.marks import Document, Src, place, stated
from seed_demo.generator.plan import Body, Member

_ROWS = (("front", "front", 0.15), ("rear", "rear", 0.65))
_EDGE = {"left": 0.04, "right": 0.96}


def access(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    if body.build == "bike":
        return {"seat": stated("Lifts off with the key, or by the strap under its end", src)}
    made: Document = {"doors": _doors(member, body, src)}
    if body.group == "car":
        made["bonnet"] = stated(kit.text("bonnet"), src)
        made["tailgate"] = stated(kit.text("tailgate"), src)
    made["windows"] = stated(kit.text("windows"), src)
    made["seat"] = stated(kit.text("seat"), src)
    made["column"] = stated(kit.text("column"), src)
    return made


def _doors(member: Member, body: Body, src: Src) -> list[Document]:
    rows = _ROWS if body.doors >= 4 or body.name == "bus" else _ROWS[:1]
    kit = member.kit
    return [
        {
            "id": f"{row}{side[0]}",
            "name": stated(f"{side} {name}", src),
            "place": place((side, "middle", "mid"), None, (along, _EDGE[side], 0.6), src),
            "outside": stated(kit.text("outside"), src),
            "inside": stated(kit.text("inside"), src),
        }
        for row, name, along in rows
        for side in ("left", "right")
    ]
