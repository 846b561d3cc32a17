"""Energy: every pack, low-voltage source, outlet and tank, cable routes, the pyro-fuse."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import (
    Equipment,
    ListOf,
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

_V = Use.VOLTAGE

ENERGY = Section(
    "energy",
    "stored energy",
    (
        ListOf("packs", "packs", "pack", (
            note("role", "feeds", Terms(v.PACK_ROLE)),
            hazard("place", "where", Where(), (Use.CUTTING, "present", "anywhere low: never push, pierce or lever")),
            hazard("voltage", "nominal voltage", Number("V", 12, 1500),
                   (_V, "present", "treat as high voltage"), order=Order.MOST),
            hazard("capacity", "energy", Number("Wh", 100, 2000000),
                   (Use.FIRE, "present", "treat as large"), order=Order.MOST),
            hazard("chemistry", "chemistry", Terms(v.CHEMISTRY), (Use.FIRE, "present", "treat as lithium")),
            hazard("vents", "vents", Text(), (Use.FIRE, "present", "gas may come out anywhere: keep clear")),
            note("coolant", "coolant", Text()),
            hazard("removable", "lifts out by hand", Equipment(),
                   (_V, "present", "a second live pack may lie loose"), order=Order.ONE, best=True,
                   fittable=True),
        ), empty="none stated: treat the whole floor as a pack"),
        ListOf("cables", "high-voltage cables and components", "cable or component", (
            note("what", "what", Text(120)),
            hazard("place", "where", Where(), (Use.CUTTING, "present", "strip trim and look")),
        ), empty="none stated: strip trim and look"),
        ListOf("low_voltage", "12 V and 48 V sources", "low-voltage source", (
            hazard("voltage", "voltage", Number("V", 6, 60), (_V, "present", "treat as 48 V"), order=Order.MOST),
            hazard("place", "where", Where(), (_V, "present", "a second source may be anywhere")),
            note("chemistry", "chemistry", Terms(v.CHEMISTRY)),
        ), empty="none stated: there may be more than one"),
        hazard("outlets", "mains outlets, can feed a building", Equipment(),
               (_V, "present", "mains may be on at sockets"), order=Order.ONE, best=True, fittable=True),
        hazard("roof_rails", "live roof equipment", Equipment(),
               (Use.CUTTING, "present", "treat the roof as live"), order=Order.ONE, best=True, fittable=True),
        ListOf("tanks", "fuel, gas and hydrogen tanks", "tank", (
            hazard("fuel", "holds", Terms(v.FUEL), (Use.FIRE, "present", "treat as flammable gas")),
            hazard("place", "where", Where(), (Use.CUTTING, "present", "never pierce or lever")),
            hazard("pressure", "pressure", Number("kPa", 0, 110000), (Use.FIRE, "present", "treat as under pressure"),
                   order=Order.MOST),
            hazard("vent", "vents towards", Text(), (Use.PERSON, "present", "keep clear all round")),
            aid("shut_off", "shut-off", Text(), (Use.FIRE, "absent", "no shut-off known")),
            aid("closes_at_off", "valves close when switched off", YesNo(),
                (Use.FIRE, "absent", "treat valves as open"), order=Order.ONE, best=False),
        ), empty="none stated: there may be fuel"),
        Struct("pyro_fuse", "pyro-fuse", (
            hazard("fitted", "pyro-fuse", Equipment(),
                   (Use.PLUG, "present", "the plug may not be accepted"),
                   (_V, "absent", "high voltage may be on"), order=Order.LIST_ALL, fittable=True),
            hazard("trigger", "fired by", Terms(v.PYRO_TRIGGER, many=True),
                   (_V, "absent", "fired airbags prove nothing about it"), order=Order.UNION),
            hazard("separates", "separates", Terms(v.PYRO_SEPARATES), (_V, "absent", "high voltage may be on")),
            hazard("port_effect", "what it does to the port", Terms(v.PYRO_PORT),
                   (Use.PLUG, "present", "the plug may be refused"), order=Order.ONE, best="plug_refused"),
        )),
    ),
)  # fmt: skip
