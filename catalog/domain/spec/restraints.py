"""Restraints: airbags, inflators, pretensioners and the wait after the last source is off."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import (
    Equipment,
    ListOf,
    Number,
    Order,
    Section,
    Terms,
    Text,
    Use,
    Where,
    hazard,
    note,
)

_P = Use.PERSON
_CUT = (Use.CUTTING, "present", "strip trim and look")

RESTRAINTS = Section(
    "restraints",
    "restraints",
    (
        ListOf("airbags", "airbags", "airbag", (
            hazard("kind", "airbag", Terms(v.AIRBAG), (_P, "present", "keep out of its path")),
            hazard("place", "where", Where(), (_P, "present", "keep out of every airbag's path")),
            hazard("stages", "stages", Number("", 1, 3), (_P, "present", "fired is not spent: a stage may remain"),
                   order=Order.MOST),
        ), empty="none stated: treat every trim panel as an airbag"),
        ListOf("inflators", "inflators", "inflator", (
            hazard("kind", "inflator", Terms(v.INFLATOR), (Use.CUTTING, "present", "treat as stored gas")),
            hazard("place", "where", Where(), _CUT),
        ), empty="none stated: strip trim and look"),
        ListOf("pretensioners", "pretensioners", "pretensioner", (
            hazard("place", "where", Where(), _CUT),
        ), empty="none stated: strip trim and look"),
        ListOf("gas_struts", "gas struts", "gas strut", (
            hazard("place", "where", Where(), _CUT),
        ), empty="none stated: expect them at bonnet and tailgate"),
        hazard("pop_up_bar", "pop-up roll bar", Equipment(), (_P, "present", "treat as fitted: keep clear"),
               order=Order.ONE, best=True, fittable=True),
        hazard("active_bonnet", "bonnet that lifts in a crash", Equipment(),
               (_P, "present", "treat as fitted: do not lean on the bonnet"), order=Order.ONE, best=True,
               fittable=True),
        hazard("control_unit", "control unit", Where(),
               (Use.CUTTING, "present", "do not cut or drill the centre tunnel")),
        hazard("wait", "wait after the last source is off", Number("s", 0, 3600),
               (_P, "present", "not stated: treat as armed"), order=Order.MOST),
        note("about", "about the restraints", Text()),
    ),
)  # fmt: skip
