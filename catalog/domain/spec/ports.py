"""Charge ports: where, behind what, how it opens, what plugging in does there."""

from catalog.domain import vocabulary as v
from catalog.domain.connectors import CONNECTOR
from catalog.domain.spec.nodes import (
    Equipment,
    ListOf,
    Order,
    Struct,
    Terms,
    Text,
    Use,
    Where,
    aid,
    hazard,
    look,
)

PORTS = ListOf(
    "ports",
    "charge ports",
    "charge port",
    (
        aid("standard", "connector standard", Terms(CONNECTOR),
            (Use.PLUG, "absent", "no plug can be counted on to fit")),
        aid("current", "current", Terms(v.CURRENT), (Use.PLUG, "absent", "AC or DC not known")),
        aid("place", "where", Where(), (Use.PLUG, "absent", "find it by eye; do not search with fire or smoke")),
        look("cover", "covered by", Terms(v.PORT_COVER)),
        Struct("door", "port door", (
            aid("mechanism", "door mechanism", Terms(v.DOOR_MECHANISM),
                (Use.PLUG, "absent", "may not open by hand: have a plastic wedge ready")),
            aid("without_12v", "opens with no 12 V", Text(),
                (Use.PLUG, "absent", "treat as not opening: wedge it")),
            aid("wedge", "where a plastic wedge goes", Text(),
                (Use.PLUG, "absent", "no wedge point known")),
        )),
        Struct("lock", "coupler lock", (
            hazard("fitted", "locks the coupler", Equipment(),
                   (Use.PLUG, "present", "treat as locked: never pull hard"), order=Order.ONE, best=True,
                   fittable=True),
            aid("release", "manual release", Text(), (Use.PLUG, "absent", "no manual release known")),
            aid("release_place", "release is at", Where(), (Use.PLUG, "absent", "no manual release known")),
        )),
        hazard("wakes", "plugging in wakes", Terms(v.WAKES, many=True),
               (Use.VOLTAGE, "present", "treat as waking the 12 V network, contactors and fans"),
               order=Order.UNION),
    ),
    empty="none stated: it may still have one",
)  # fmt: skip
