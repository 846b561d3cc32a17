"""Structure: where not to cut or push, where to lift, glazing by pane."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import ListOf, Section, Terms, Text, Use, Where, aid, hazard, note

_STRIP = (Use.CUTTING, "present", "strip trim and look")


def _zones(key: str, label: str, item: str, empty: str, *, helps: bool = False) -> ListOf:
    place = (
        aid("place", "where", Where(), (Use.CUTTING, "absent", "no such point known"))
        if helps
        else hazard("place", "where", Where(), _STRIP)
    )
    return ListOf(key, label, item, (place, note("why", "why", Text(160))), empty=empty)


STRUCTURE = Section(
    "structure",
    "structure",
    (
        _zones("no_cut", "do not cut here", "no-cut zone", "none stated: strip trim and look"),
        _zones("never_push", "never push, pierce or lever", "never-push zone",
               "none stated: never push on the floor or sills"),
        ListOf("strong", "high-strength members", "member", (
            hazard("place", "where", Where(), _STRIP),
            note("material", "material", Terms(v.MATERIAL)),
        ), empty="none stated: expect them in pillars and sills"),
        _zones("lift", "lifting points", "lifting point", "none stated: no lifting point to count on", helps=True),
        _zones("strut", "strut points", "strut point", "none stated: no strut point to count on", helps=True),
        _zones("ram", "push and ram points", "ram point", "none stated: no ram point to count on", helps=True),
        ListOf("glazing", "glazing", "pane", (
            note("pane", "pane", Terms(v.PANE)),
            hazard("glass", "glass", Terms(v.GLASS),
                   (Use.CUTTING, "present", "treat as laminated: saw, and cover the casualty")),
        ), empty="none stated: treat every pane as laminated"),
    ),
)  # fmt: skip
