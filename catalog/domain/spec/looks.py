"""Looks: what a caller or a crew sees. No protective readings; silence is neutral."""

from catalog.domain import vocabulary as v
from catalog.domain.spec.nodes import ListOf, Number, Section, Terms, Text, Where, look

LOOKS = Section(
    "looks",
    "looks",
    (
        look("body", "body", Terms(v.BODY)),
        look("doors", "doors", Number("", 0, 8)),
        look("size", "size class", Terms(v.SIZE)),
        look("length", "overall length", Number("mm", 1000, 26000)),
        look("width", "overall width", Number("mm", 500, 3500)),
        look("height", "overall height", Number("mm", 800, 4500)),
        look("front_face", "front face", Terms(v.FRONT_FACE)),
        look("front_lamps", "front lamps", Terms(v.LAMPS)),
        look("rear_lamps", "rear lamps", Terms(v.LAMPS)),
        look("tailpipe", "tailpipe in view", Where(), fittable=True),
        look("roof", "roof", Terms(v.ROOF)),
        look("wheels", "wheels", Text()),
        look("handles", "door handles", Terms(v.HANDLES)),
        look("colours", "only sold in", Terms(v.COLOUR, many=True)),
        look("telltale", "tells it from its look-alikes", Text()),
        ListOf(
            "badges",
            "badges",
            "badge",
            (look("text", "reads", Text(40)), look("place", "where", Where())),
            empty="none stated: look on the tailgate, wings and sills",
        ),
    ),
)
