"""Access: doors, bonnet and tailgate without power; windows, seat, column."""

from catalog.domain.spec.nodes import ListOf, Section, Text, Use, Where, aid, note

_NO = (Use.ACCESS, "absent", "treat as none")

ACCESS = Section(
    "access",
    "doors without power",
    (
        ListOf("doors", "doors", "door", (
            note("name", "door", Text(60)),
            aid("place", "where", Where(), _NO),
            aid("outside", "from outside without power", Text(), _NO),
            aid("inside", "from inside without power", Text(), _NO),
        ), empty="none stated: no release without power to count on"),
        aid("bonnet", "bonnet without power", Text(), _NO),
        aid("tailgate", "tailgate without power", Text(), _NO),
        aid("windows", "windows", Text(), (Use.ACCESS, "absent", "move them while the power lasts")),
        aid("seat", "seat", Text(), (Use.ACCESS, "absent", "move it while the power lasts")),
        aid("column", "steering column", Text(), (Use.ACCESS, "absent", "move it while the power lasts")),
    ),
)  # fmt: skip
