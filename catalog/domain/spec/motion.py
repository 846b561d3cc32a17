"""Motion: switching off, what wakes it, park, brake, and what a mated coupler does to drive."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import (
    Equipment,
    Number,
    Order,
    Section,
    Struct,
    Terms,
    Text,
    Use,
    Where,
    YesNo,
    aid,
    hazard,
    note,
)

_M = Use.MOTION

MOTION = Section(
    "motion",
    "motion",
    (
        aid("switch_off", "switch off", Text(), (_M, "absent", "cannot be switched off for sure: chock")),
        aid("switch_place", "switch is at", Where(), (_M, "absent", "look round the wheel and dash")),
        hazard("wakes_again", "what wakes it again", Terms(v.REMOTE_WAKE, many=True),
               (_M, "present", "treat as able to wake by key, phone or timer"), order=Order.UNION),
        hazard("selector", "selector", Terms(v.SELECTOR),
               (_M, "present", "a touch may select drive: keep hands off until it is off")),
        aid("auto_park", "park engages by itself on", Terms(v.AUTO_PARK, many=True),
            (_M, "absent", "treat as never parking by itself")),
        Struct("coupled", "with a charge coupler plugged in", (
            aid("refuses_drive", "refuses its own drive", YesNo(),
                (_M, "absent", "treat as still able to drive"), order=Order.ONE, best=False),
            aid("selects_park", "selects park", YesNo(), (_M, "absent", "treat as not parking"),
                order=Order.ONE, best=False),
            aid("powers_down", "powers down", YesNo(), (_M, "absent", "treat as still powered"),
                order=Order.ONE, best=False),
            note("restart_cycles", "power cycles before it restarts (towing fact, not a permission)",
                 Number("", 0, 10)),
        )),
        hazard("park_without_12v", "park when 12 V is lost", Terms(v.PARK_WITHOUT_12V),
               (_M, "present", "park may release or not engage: chock before cutting 12 V"),
               order=Order.ONE, best="releases"),
        aid("parking_brake", "parking brake", Terms(v.PARKING_BRAKE),
            (_M, "absent", "no brake to count on: chock")),
        aid("ready_shown", "readiness shows as", Terms(v.READY_SHOWN, many=True),
            (_M, "absent", "silence and a dark screen are not off")),
        hazard("engine_autostart", "engine can start by itself", Equipment(),
               (_M, "present", "treat as able to start by itself"), order=Order.ONE, best=True, fittable=True),
        hazard("self_moving_suspension", "suspension can move by itself", Equipment(),
               (_M, "present", "treat as able to drop: support before going under"), order=Order.ONE, best=True,
               fittable=True),
        aid("neutral", "to get neutral", Text(), (Use.MOVING, "absent", "no way to neutral known: carry it")),
        aid("tow_mode", "tow mode", Text(),
            (Use.MOVING, "absent", "no tow mode known: decide before the 12 V goes"), fittable=True),
        aid("key_distance", "key at least this far away", Number("mm", 1000, 100000),
            (_M, "absent", "take the key well away, and phones with it"), order=Order.MOST),
    ),
)  # fmt: skip
