"""Motion: switching off, what wakes it, park and brake, what plugging in does."""

from seed_demo.generator.marks import Document, Src, absent, maybe, place, stated
from seed_demo.generator.plan import BURNING, PLUGGED, Body, Member

_COUPLED = ("refuses_drive", "selects_park", "powers_down")
_FROM = {"app": "2015", "phone_key": "2020", "remote_parking": "2020"}  # common practice, no source
_BIKE_SHOWS = ("wakes_again", "ready_shown")  # nothing parks a two-wheeler
_ENGINE_ONLY = {"wakes_again": ["key_fob"], "auto_park": ["never"], "ready_shown": ["gauge"]}


def motion(member: Member, body: Body, src: Src) -> Document:
    kit = member.kit
    engine_only = member.propulsion == "combustion"
    made: Document = {"switch_off": stated(kit.text("switch_off"), src)}
    if len(member.region.steering) == 1 and body.build != "bike":
        made["switch_place"] = _switch(member, src)
    for key in _BIKE_SHOWS if body.build == "bike" else _ENGINE_ONLY:
        made[key] = stated(_ENGINE_ONLY[key] if engine_only else _known(member, kit.habit(key)), src)
    made["selector"] = stated("lever" if engine_only and kit.group in ("car", "work") else kit.habit("selector"), src)
    if member.propulsion in PLUGGED:
        said = zip(_COUPLED, kit.habit("coupled"), strict=True)
        made["coupled"] = {key: stated(value, src) for key, value in said if value is not None}
        if kit.number("cycles", 0, 1) < 0.3:
            made["coupled"]["restart_cycles"] = stated(1 + int(kit.number("cycles_count", 0, 3)), src)
    if body.build != "bike":
        made["park_without_12v"] = stated("stays" if engine_only else kit.habit("park_without_12v"), src)
        made["parking_brake"] = stated("air" if kit.group == "heavy" else kit.habit("parking_brake"), src)
    made["engine_autostart"] = _autostart(member, src)
    made["self_moving_suspension"] = suspension(member, body, src)
    made["neutral"] = stated(kit.text("neutral"), src)
    made["tow_mode"] = absent(src) if engine_only else stated(kit.text("tow_mode"), src)
    made["key_distance"] = stated(kit.habit("key_distance"), src)
    return made


def _known(member: Member, ways: list[str]) -> list[str]:
    """Ways to wake it or to show that it is on, without those that came later than the vehicle."""
    return [way for way in ways if member.band >= _FROM.get(way, "")]


def suspension(member: Member, body: Body, src: Src) -> Document:
    """Air springs: usual under buses, an option for large cars."""
    if body.name == "bus":
        return stated(True, src)
    if body.size in ("large", "very_large") and member.kit.number("air", 0, 1) < 0.4:
        return maybe("air suspension option", src)
    return absent(src)


def _switch(member: Member, src: Src) -> Document:
    end, level, landmark = member.kit.habit("switch_place")
    side = member.region.steering[0] if landmark == "in_dash" else "centre"
    return place((side, end, level), landmark, (0.9 if landmark == "in_dash" else 0.1, 0.6, 0.4), src)


def _autostart(member: Member, src: Src) -> Document:
    if member.propulsion not in BURNING:
        return absent(src)
    if member.propulsion == "combustion":
        return maybe("stop-start option", src) if member.kit.number("stop_start", 0, 1) < 0.4 else absent(src)
    return stated(True, src)
