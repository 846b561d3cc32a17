"""Sketches to tap: how a port's door opens, and what the driver selects park with. Keys are the vocabularies'."""

from collections.abc import Mapping

from catalog.domain.vocabulary import DOOR_MECHANISM, SELECTOR
from catalog.draw.sketch import Sketch, Stroke, arrow, box, dot, run

WIDTH, HEIGHT = 96, 64

Paths = tuple[tuple[str, str], ...]


def _moved(start: tuple[int, int], end: tuple[int, int]) -> Paths:
    shaft, head = arrow(start, end)
    return (("line", shaft), ("solid", head))


_SKIN = ("body", box(4, 4, 88, 56))
_HOLE = ("solid", dot(34, 32, 9))
_FLAP = ("panel", box(18, 14, 32, 36))

_DOORS: Mapping[str, Paths] = {
    # A finger on the flap's far edge.
    "push_to_open": (_SKIN, _FLAP, ("solid", dot(44, 32, 3)), *_moved((84, 32), (54, 32))),
    # The flap stands open, pulled by its edge.
    "pull_edge": (_SKIN, _FLAP, _HOLE, ("panel", "M 18 14 L 8 8 V 42 L 18 50 Z"),
                  *_moved((54, 32), (80, 32))),
    # A motor turns it.
    "motorised": (_SKIN, _FLAP, _HOLE, ("line", "M 62 22 A 14 14 0 1 1 60 42"),
                  ("solid", "M 66 14 L 66 28 L 54 24 Z"), ("solid", dot(72, 32, 3))),
    # A handle inside, a cable to the flap.
    "inside_release": (_SKIN, _FLAP, ("line", "M 50 32 C 62 32 58 46 70 46"), ("panel", box(70, 38, 14, 16)),
                       ("solid", box(73, 41, 8, 4))),
    "sliding": (_SKIN, _FLAP, _HOLE, ("panel", box(54, 14, 32, 36)), *_moved((58, 32), (82, 32))),
    # The badge, a shield, hinges up.
    "hinged_badge": (_SKIN, _HOLE, ("panel", "M 22 14 L 46 14 L 60 8 L 36 8 Z"),
                     ("panel", "M 60 18 H 84 V 32 A 14 14 0 0 1 72 46 A 14 14 0 0 1 60 32 Z"),
                     ("line", run((66, 30), (78, 30)))),
    # The lamp, two lenses, swings out.
    "hinged_lamp": (_SKIN, _HOLE, ("glass", "M 54 14 H 88 V 40 A 20 20 0 0 1 54 40 Z"), ("line", dot(64, 28, 6)),
                    ("line", dot(79, 28, 6)), ("thin", run((52, 12), (52, 52)))),
    # The number plate folds down.
    "hinged_plate": (_SKIN, ("solid", dot(48, 20, 9)), ("panel", box(14, 38, 68, 16)),
                     ("thin", run((22, 46), (34, 46))), ("thin", run((40, 46), (56, 46))),
                     ("thin", run((62, 46), (74, 46))), ("line", run((14, 38), (82, 38)))),
    # A cap on a cord.
    "cap": (_SKIN, _HOLE, ("line", "M 34 41 C 40 56 58 52 64 42"), ("panel", dot(72, 32, 13)),
            ("thin", dot(72, 32, 8))),
}  # fmt: skip

_WHEEL = (("line", dot(40, 34, 24)), ("line", dot(40, 34, 6)), ("line", run((16, 34), (34, 34))),
          ("line", run((46, 34), (64, 34))), ("line", run((40, 40), (40, 58))))  # fmt: skip

_SELECTORS: Mapping[str, Paths] = {
    "lever": (("body", box(26, 42, 44, 16)), ("line", run((48, 48), (48, 20))), ("solid", dot(48, 16, 8)),
              *_moved((64, 30), (64, 8))),
    # A stalk to the right of the wheel's rim.
    "stalk": (*_WHEEL, ("solid", "M 62 26 L 88 16 L 90 22 L 64 32 Z"), *_moved((80, 34), (80, 54))),
    "dial": (("body", dot(48, 32, 26)), ("panel", dot(48, 32, 15)), ("solid", box(46, 10, 4, 12)),
             ("line", "M 78 16 A 34 34 0 0 1 78 48"), ("solid", "M 72 50 L 84 52 L 82 41 Z")),
    "buttons": (("body", box(10, 10, 76, 44)), ("panel", box(16, 18, 18, 28)), ("panel", box(39, 18, 18, 28)),
                ("panel", box(62, 18, 18, 28)), ("solid", dot(25, 32, 4)), ("solid", dot(48, 32, 4)),
                ("solid", dot(71, 32, 4))),
    # A slider at the edge of a screen.
    "touch": (("body", box(12, 6, 72, 52)), ("glass", box(18, 12, 44, 40)), ("panel", box(68, 12, 10, 40)),
              ("solid", dot(73, 44, 5)), *_moved((73, 36), (73, 16))),
    "toggle": (("body", box(20, 40, 56, 18)), ("solid", "M 42 44 L 54 44 L 60 26 L 50 24 Z"),
               *_moved((70, 28), (70, 8))),
    # A short arm that stands out of the dash.
    "wand": (("body", "M 4 10 H 92 V 34 C 64 40 32 40 4 34 Z"), ("line", run((48, 36), (56, 52))),
             ("solid", dot(58, 55, 6)), *_moved((72, 46), (88, 46))),
    "twist_grip": (("body", box(30, 24, 50, 18)), ("thin", run((42, 24), (42, 42))), ("thin", run((54, 24), (54, 42))),
                   ("thin", run((66, 24), (66, 42))), ("line", run((4, 33), (30, 33))),
                   ("line", "M 44 14 A 26 26 0 0 1 70 14"), ("solid", "M 66 6 L 66 20 L 78 16 Z")),
    "pedal": (("body", box(22, 14, 18, 34)), ("body", box(54, 8, 16, 46)), ("thin", run((22, 25), (40, 25))),
              ("thin", run((22, 36), (40, 36))), ("thin", run((54, 22), (70, 22))), ("thin", run((54, 38), (70, 38)))),
}  # fmt: skip


def door_sketches() -> tuple[Sketch, ...]:
    """How a port's door opens: one sketch each key of the vocabulary."""
    return tuple(_sketch(term.key, term.label, _DOORS[term.key]) for term in DOOR_MECHANISM.terms)


def selector_sketches() -> tuple[Sketch, ...]:
    """The drive selector: one sketch each key of the vocabulary."""
    return tuple(_sketch(term.key, term.label, _SELECTORS[term.key]) for term in SELECTOR.terms)


def _sketch(key: str, label: str, paths: Paths) -> Sketch:
    return Sketch(key, label, WIDTH, HEIGHT, tuple(Stroke(paint, d) for paint, d in paths), twin=(label,))
