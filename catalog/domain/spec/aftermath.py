"""Fire, submersion, towing, storage."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import Number, Order, Section, Terms, Text, Use, Where, aid, hazard, note

AFTERMATH = Section(
    "aftermath",
    "fire, water, towing, storage",
    (
        aid("pack_water", "getting water to the pack", Text(),
            (Use.FIRE, "absent", "no access known: cool from outside with plenty of water")),
        aid("pack_water_place", "water access is at", Where(), (Use.FIRE, "absent", "no access known")),
        hazard("venting_signs", "signs of venting", Text(),
               (Use.FIRE, "present", "vapour is not steam: toxic, and explosive indoors")),
        hazard("reignition_watch", "watch for re-ignition at least", Number("s", 0, 1209600),
               (Use.FIRE, "present", "not stated: expect re-ignition, even days later"), order=Order.MOST),
        hazard("wheels_turning", "wheels turning while it is moved", Terms(v.WHEELS_TURNING),
               (Use.MOVING, "present", "never: carry it"), order=Order.ONE, best="never"),
        hazard("stand_off", "keep it outdoors, clear by", Number("mm", 1000, 100000),
               (Use.FIRE, "present", "keep 15 m clear"), order=Order.MOST),
        hazard("salt_water", "after salt water", Terms(v.SALT_WATER),
               (Use.FIRE, "present", "fire watch, even days later"), order=Order.ONE, best="treat_as_fire"),
        aid("tow_eye", "towing eye", Where(), (Use.MOVING, "absent", "no towing eye known")),
        note("about", "about it", Text()),
    ),
)  # fmt: skip
