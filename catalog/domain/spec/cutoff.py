"""Cutting high voltage off: the guide's ordered methods, and the wait for restraints."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import (
    ListOf,
    Number,
    Order,
    Section,
    Terms,
    Text,
    Use,
    Where,
    aid,
    hazard,
    note,
)

_V = Use.VOLTAGE
_LIVE = "treat as live"

METHODS = ListOf(
    "methods",
    "ways to cut high voltage off, in the guide's order",
    "way",
    (
        aid("kind", "way", Terms(v.METHOD), (_V, "absent", _LIVE)),
        aid("place", "where", Where(), (_V, "absent", "expose, find the label, then cut")),
        aid("reachable_when", "reachable when", Terms(v.REACH, many=True),
            (_V, "absent", "treat as out of reach in this posture")),
        aid("opening", "open or remove first", Text(), (_V, "absent", "strip trim and look")),
        aid("tool", "tool", Terms(v.TOOL, many=True), (_V, "absent", "insulated cutters"), order=Order.UNION),
        aid("label", "label reads", Text(80), (_V, "absent", "no label known: do not cut what is not labelled")),
        aid("cuts", "cuts", Number("", 1, 4), (_V, "absent", "cut twice, take the piece out"), order=Order.MOST),
        hazard("effects", "what it does besides", Terms(v.EFFECT, many=True),
               (Use.ACCESS, "present", "doors, windows and park may stop working: use the power first"),
               order=Order.UNION),
        hazard("stays_live", "what stays live", Terms(v.STAYS_LIVE, many=True),
               (_V, "present", "the pack and its cables stay live"), order=Order.UNION),
        hazard("wait", "wait after it", Number("s", 0, 3600), (_V, "present", "not stated: treat as live"),
               order=Order.MOST),
        aid("verify", "how to check", Text(), (_V, "absent", "no check known: treat as live")),
        aid("ppe", "wear", Terms(v.PPE, many=True), (_V, "absent", "insulating gloves and face shield"),
            order=Order.UNION),
    ),
    empty="none stated: high voltage stays on; work as if live",
    ordered=True,
)  # fmt: skip

CUTOFF = Section(
    "cutoff",
    "cut high voltage off",
    (
        METHODS,
        note("order_note", "about the order", Text()),
    ),
)
