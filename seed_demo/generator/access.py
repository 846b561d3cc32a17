"""Access: doors, bonnet and tailgate without power; windows, seat, column."""

from seed_demo.generator.marks import Document, Src, other_flank, place, stated
from seed_demo.generator.plan import Body, Member

_ROWS = (("front", "front", 0.15), ("rear", "rear", 0.65))
_ORDER = ("first", "second", "third")
_BUS_ENDS = (("front_quarter", 0.5), ("middle", 0.5), ("rear_quarter", 0.5))
_CHILD_LOCKS = 0.4  # share of platforms whose manual says so
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
    kit = member.kit
    outside, inside = stated(kit.text("outside"), src), stated(kit.text("inside"), src)
    if body.name == "bus":
        return [
            {"id": f"door{number}", **_bus_door(number, body, member, src), "outside": outside, "inside": inside}
            for number in range(1, body.doors + 1)
        ]
    child_lock = stated(f"{inside['value']}; a child lock may hold it", src)
    locks = body.rows > 1 and kit.number("child", 0, 1) < _CHILD_LOCKS
    return [
        {
            "id": f"{row}{side[0]}",
            "name": stated(f"{side} {name}", src),
            "place": place((side, "middle", "mid"), None, (along, _EDGE[side], 0.6), src),
            "outside": outside,
            "inside": child_lock if locks and row == "rear" else inside,
        }
        for row, name, along in (_ROWS if body.doors >= 4 else _ROWS[:1])
        for side in _EDGE
    ]


def _bus_door(number: int, body: Body, member: Member, src: Src) -> Document:
    """Doors are on the kerb side, the first one at the driver; no side is said where it is built either way."""
    made: Document = {"name": stated(f"{_ORDER[number - 1]} door", src)}
    if len(member.region.steering) == 1:
        side = other_flank(member.region.steering[0])
        end, along = _BUS_ENDS[number - 1] if body.doors > 1 else _BUS_ENDS[1]
        made["place"] = place((side, end, "mid"), None, (along, _EDGE[side], 0.6), src)
    return made
