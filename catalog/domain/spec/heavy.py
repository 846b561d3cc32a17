"""Heavy and two-wheeled vehicles: what a car does not have."""

from catalog.domain.spec.nodes import (
    Equipment,
    ListOf,
    Order,
    Section,
    Text,
    Use,
    Where,
    aid,
    hazard,
    note,
)

HEAVY = Section(
    "heavy",
    "heavy and two-wheeled",
    (
        ListOf("switches", "emergency switches", "emergency switch", (
            aid("place", "where", Where(), (Use.VOLTAGE, "absent", "no emergency switch known")),
            aid("does", "what it does", Text(), (Use.VOLTAGE, "absent", "treat as not cutting high voltage off")),
        ), empty="none stated: no emergency switch to count on"),
        hazard("air_brakes", "air brakes", Equipment(), (Use.MOTION, "present", "brakes may release: chock"),
               order=Order.ONE, best=True, fittable=True),
        hazard("air_suspension", "air suspension", Equipment(),
               (Use.MOTION, "present", "may drop: support before going under"), order=Order.ONE, best=True,
               fittable=True),
        aid("door_air_release", "door air release", Text(), (Use.ACCESS, "absent", "no release known")),
        aid("door_air_release_place", "door air release is at", Where(), (Use.ACCESS, "absent", "no release known")),
        hazard("tilting_cab", "tilting cab", Equipment(), (Use.PERSON, "present", "secure the cab before going under"),
               order=Order.ONE, best=True, fittable=True),
        hazard("powered_body", "powered body or lift", Text(), (Use.PERSON, "present", "treat as able to move"),
               fittable=True),
        hazard("driven_wheel", "driven wheel", Where(),
               (Use.MOTION, "present", "keep every wheel clear of the ground")),
        note("about", "about it", Text()),
    ),
)  # fmt: skip
