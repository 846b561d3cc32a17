"""Small outlines of the body styles from the left, to tap: those of the walk-round strip, each as large as its box."""

from dataclasses import replace

from catalog.domain.vocabulary import BODY
from catalog.draw.bodies import body_of
from catalog.draw.faces import LEFT
from catalog.draw.frame import frame_of, shapes_of
from catalog.draw.model import Circle, Line
from catalog.draw.sketch import Sketch, Stroke, dot

WIDTH, HEIGHT = 960, 480
_EDGE = 20
# What the strip paints with -> the paint of a sketch; all else is a thin line.
_PAINT = {
    "body": "body", "tail": "body", "seat": "solid", "glass": "glass", "lamp": "panel", "plate": "panel",
    "line": "thin", "thick": "line", "dark": "solid", "tyre": "solid", "hub": "hub", "halo": "halo",
}  # fmt: skip


def body_sketches() -> tuple[Sketch, ...]:
    """One for each body style of the vocabulary, in its order."""
    return tuple(body_sketch(term.key) for term in BODY.terms)


def body_sketch(key: str) -> Sketch:
    """The outline of a body style, nose to the left, wheels on the ground line. Raises KeyError."""
    if key not in BODY.keys:
        raise KeyError(key)
    body = body_of(key)
    length, width, height = body.size
    room, tall = WIDTH - 2 * _EDGE, HEIGHT - 2 * _EDGE
    across = min(room, tall * length // height)
    up = across * height // length
    made = frame_of(body, LEFT, 0, (across, across * width // length, up))
    frame = replace(made, left=(WIDTH - across) // 2, bottom=HEIGHT - _EDGE)
    strokes = [Stroke("thin", f"M 0 {HEIGHT - _EDGE} H {WIDTH}")]
    for shape in shapes_of(frame):
        if isinstance(shape, Circle):
            strokes.append(Stroke(_PAINT.get(shape.css, "thin"), dot(shape.centre[0], shape.centre[1], shape.radius)))
        elif isinstance(shape, Line):
            strokes.append(Stroke(_PAINT.get(shape.css, "thin"), _path(shape)))
    label = BODY.label_of(key)
    return Sketch(key, label, WIDTH, HEIGHT, tuple(strokes), twin=(label,))


def _path(line: Line) -> str:
    return " ".join(" ".join((letter, *(str(number) for number in told))) for letter, told in line.steps)
