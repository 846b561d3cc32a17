"""A small drawing as painted paths: what faces, icons and close-ups are made of.

Whole numbers only, and no colour: `paint` is a class of static/sketch.css.
"""

from dataclasses import dataclass

from catalog.draw.svg import escaped

# What a path is painted with: body ground with a line around, glass, line only, thin line, ink, panel, a thick cable,
# the dotted line of what is not stated, the panel round a mark, the mark, a thin ring, a hub.
PAINTS = ("body", "glass", "line", "thin", "solid", "panel", "cable", "unsaid", "halo", "spot", "ringed", "hub")


@dataclass(frozen=True, slots=True)
class Stroke:
    """A painted path. d: commands of an SVG path."""

    paint: str
    d: str


@dataclass(frozen=True, slots=True)
class Label:
    """Words in a drawing. anchor: "start", "middle" or "end" at x. size: in its units."""

    x: int
    y: int
    text: str
    size: int = 13
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Sketch:
    """A drawing in a box. title: what it shows. twin: the same facts in words, a line each."""

    key: str
    title: str
    width: int
    height: int
    strokes: tuple[Stroke, ...]
    labels: tuple[Label, ...] = ()
    twin: tuple[str, ...] = ()


def dot(x: int, y: int, r: int) -> str:
    """A circle."""
    return f"M {x - r} {y} A {r} {r} 0 1 1 {x + r} {y} A {r} {r} 0 1 1 {x - r} {y} Z"


def box(x: int, y: int, width: int, height: int) -> str:
    """A rectangle."""
    return f"M {x} {y} H {x + width} V {y + height} H {x} Z"


def run(*points: tuple[int, int]) -> str:
    """A line through points."""
    first, *rest = points
    return f"M {first[0]} {first[1]}" + "".join(f" L {x} {y}" for x, y in rest)


def arrow(start: tuple[int, int], end: tuple[int, int]) -> tuple[str, str]:
    """A shaft and a solid head, along one axis or a diagonal: for what is moved."""
    across = (end[0] > start[0]) - (end[0] < start[0])
    down = (end[1] > start[1]) - (end[1] < start[1])
    tip, back = end, (end[0] - 8 * across, end[1] - 8 * down)
    left, right = (back[0] - 5 * down, back[1] + 5 * across), (back[0] + 5 * down, back[1] - 5 * across)
    return run(start, back), f"{run(tip, left, right)} Z"


def sketch_svg(sketch: Sketch, named: bool = True) -> str:
    """The drawing as SVG, painted by classes. named: carries its title; hidden otherwise, with words beside it."""
    start = f'<svg class="sketch" viewBox="0 0 {sketch.width} {sketch.height}"'
    name = f' role="img" aria-label="{escaped(sketch.title)}">' if named else ' aria-hidden="true">'
    strokes = "".join(f'<path class="{stroke.paint}" d="{stroke.d}"/>' for stroke in sketch.strokes)
    return f"{start}{name}{strokes}{''.join(_words(label) for label in sketch.labels)}</svg>"


def _words(label: Label) -> str:
    at = f'x="{label.x}" y="{label.y}" font-size="{label.size}" text-anchor="{label.anchor}"'
    return f"<text {at}>{escaped(label.text)}</text>"
