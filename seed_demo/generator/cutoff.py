"""Cutting high voltage off: the make's ways in its order, with its own labels and waits."""

from collections.abc import Callable
from typing import Any

from seed_demo.generator.marks import Document, Src, place, stated
from seed_demo.generator.plan import Body, Member

_LIVE = ["pack", "dc_cables", "low_voltage"]
# side of a place -> how the vehicle may lie while it is in reach; its own end must not be crushed.
_REACH = {"left": ["wheels", "right_down"], "right": ["wheels", "left_down"], "centre": ["wheels"]}


def cutoff(member: Member, body: Body, src: Src) -> Document:
    """The ordered ways; an engine alone has only the 12 V to take off."""
    kit = member.kit
    ways = ["power_off", "negative"] if member.propulsion == "combustion" else list(kit.habit("cutting"))
    made: Document = {"methods": [_WAYS[way](member, src) for way in ways]}
    if body.group == "heavy" and member.propulsion != "combustion":
        made["methods"].insert(1 if ways[0] == "power_off" else 0, _switch(member, src))
    if member.propulsion == "combustion":
        made["order_note"] = stated("No high voltage in this version", src)
    else:
        made["order_note"] = stated(_order_note(member, ways), src)
    return made


def _order_note(member: Member, ways: list[str]) -> str:
    loop, plug = any("loop" in way for way in ways), "plug" in ways
    special = "order_note_both" if loop and plug else "order_note_loop" if loop else "order_note_plug"
    kit = member.kit
    return kit.text(special if (loop or plug) and kit.number("order", 0, 1) < 0.7 else "order_note")


def reach(zone: list[Any]) -> list[str]:
    """How a vehicle may lie, or be hit, with a place still in reach."""
    ends = {"front": ["rear_crushed"], "rear": ["front_crushed"]}.get(zone[1].split("_")[0])
    return [*_REACH[zone[0]], *(ends or ["front_crushed", "rear_crushed"])]


def _way(member: Member, item: str, kind: str, zone: list[Any] | None, src: Src) -> Document:
    made: Document = {"id": item, "kind": stated(kind, src)}
    if zone is not None:
        x = member.kit.number(f"{item}_x", 0.15, 0.85)
        made["place"] = place((zone[0], zone[1], zone[2]), zone[3], (x, 0.5, 0.6), src)
        made["reachable_when"] = stated(reach(zone), src)
        if kind not in ("fuse", "switch"):
            made["opening"] = stated(member.kit.text(f"open_{zone[3] or 'below'}", item), src)
    return made


def _power_off(member: Member, src: Src) -> Document:
    made = _way(member, "off", "power_off", None, src)
    made["tool"] = stated(["none"], src)
    if member.propulsion != "combustion":
        made["stays_live"] = stated(_LIVE, src)
    made["ppe"] = stated(["structural"], src)
    return made


def _loop(member: Member, src: Src, item: str = "loop", where: str = "loop") -> Document:
    kit = member.kit
    made = _way(member, item, "lv_cut_loop", kit.habit(where), src)
    made["tool"] = stated(kit.habit("loop_tool"), src)
    label = kit.text("label") + kit.make.words["label_tail"][0]
    made["label"] = stated(label, src)
    asks_two = "TWICE" in label or "BOTH" in label
    made["cuts"] = stated(2 if asks_two else 1 + int(kit.number("cuts", 0.4, 1.99)), src)
    made["effects"] = stated(kit.habit("loop_effects"), src)
    made["stays_live"] = stated(_LIVE, src)
    made["wait"] = stated(kit.habit("loop_wait"), src)
    made["verify"] = stated(kit.text("verify"), src)
    made["ppe"] = stated(kit.habit("loop_ppe"), src)
    return made


def _inner_loop(member: Member, src: Src) -> Document:
    return _loop(member, src, "loop2", "inner_loop")


def _plug(member: Member, src: Src) -> Document:
    kit = member.kit
    made = _way(member, "plug", "service_disconnect", kit.habit("plug"), src)
    made["tool"] = stated(kit.habit("plug_tool"), src)
    made["label"] = stated(kit.text("plug_label"), src)
    made["effects"] = stated(["port_dead"], src)
    made["stays_live"] = stated(_LIVE, src)
    made["wait"] = stated(kit.habit("loop_wait") * 2, src)
    made["ppe"] = stated(kit.habit("plug_ppe"), src)
    return made


def _fuse(member: Member, src: Src) -> Document:
    kit = member.kit
    made = _way(member, "fuse", "fuse", kit.habit("loop"), src)
    made["opening"] = stated(kit.text("fuse_opening"), src)
    made["tool"] = stated(["none"], src)
    made["label"] = stated(kit.text("fuse_label"), src)
    made["effects"] = stated(["port_dead"], src)
    made["stays_live"] = stated(_LIVE, src)
    made["wait"] = stated(kit.habit("loop_wait"), src)
    made["ppe"] = stated(["structural"], src)
    return made


def _negative(member: Member, src: Src) -> Document:
    kit = member.kit
    made = _way(member, "negative", "lv_negative", kit.habit("battery_12v"), src)
    made["tool"] = stated(kit.habit("negative_tool"), src)
    made["label"] = stated(kit.text("negative_label"), src)
    made["effects"] = stated(kit.habit("negative_effects"), src)
    if member.propulsion != "combustion":
        made["stays_live"] = stated(_LIVE[:2], src)
    made["wait"] = stated(kit.habit("restraint_wait"), src)
    made["ppe"] = stated(["structural"], src)
    return made


def _switch(member: Member, src: Src) -> Document:
    made = _way(member, "switch", "switch", ["centre", "front_quarter", "high", "in_dash"], src)
    made["tool"] = stated(["none"], src)
    made["label"] = stated(member.kit.text("switch_label"), src)
    made["stays_live"] = stated(_LIVE, src)
    made["ppe"] = stated(["structural"], src)
    return made


_WAYS: dict[str, Callable[[Member, Src], Document]] = {
    "power_off": _power_off,
    "loop": _loop,
    "inner_loop": _inner_loop,
    "plug": _plug,
    "fuse": _fuse,
    "negative": _negative,
}
