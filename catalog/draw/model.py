"""What is drawn, and what a drawing is made of. Lengths in a drawing are whole tenths of a pixel, y downwards."""

from dataclasses import dataclass

from catalog.domain.places import Place

SOLID, RING, STRUCK = "solid", "ring", "struck"  # do; only if its condition holds; ruled out or out of reach
POSTURES = ("", "wheels", "left_down", "right_down", "roof")  # "" is not said


@dataclass(frozen=True, slots=True)
class Numbered:
    """A disc. number: of the step. shape: SOLID, RING or STRUCK. zone: known only as far as its zone, drawn wider.

    wheel: what is done to the wheels, or to the sides of a vehicle that lies; drawn with wedges at the ground.
    """

    number: int
    shape: str
    place: Place
    label: str
    zone: bool = False
    wheel: bool = False


@dataclass(frozen=True, slots=True)
class Zone:
    """Where something is, or must not be done.

    kind: one of areas.FILL.
    """

    place: Place
    kind: str
    label: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """A vehicle to draw. body: of the vocabulary, "" not stated. Sizes in millimetres, 0 not stated."""

    body: str
    length: int
    width: int
    height: int
    numbered: tuple[Numbered, ...] = ()
    zones: tuple[Zone, ...] = ()


Point = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Line:
    """A path. steps: letter (M, L, Q, Z) and its numbers. fill: "", cut, lattice or dots, by pattern.

    wide: the pattern fills a line of this width instead of an area; 0 for an area.
    """

    css: str
    steps: tuple[tuple[str, tuple[int, ...]], ...]
    fill: str = ""
    wide: int = 0


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    css: str
    centre: Point
    radius: int


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text. at: its base line's start, or its middle. anchor: start, middle or end."""

    css: str
    at: Point
    text: str
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Disc:
    """A numbered disc and what it points to: every place of its number on that flank, view."""

    numbered: Numbered
    centre: Point
    marks: tuple[Point, ...]
    view: str


Shape = Line | Circle | Words | Disc


@dataclass(frozen=True, slots=True)
class Panel:
    """One side of the vehicle in the picture. view: front, left, rear, right, roof, under. turn: quarters clockwise.

    box: left, top, right, bottom of the vehicle's extent. on_top: reached from above.
    """

    view: str
    turn: int
    box: tuple[int, int, int, int]
    on_top: bool = False


@dataclass(frozen=True, slots=True)
class Strip:
    """The picture and its text. legend: (fill, words) of what is in the picture. twin: the same facts, line by line.

    on_ground: the view that lies on the ground, in words, "" on its wheels. out_of_reach: numbered things that lie
    there; they have no disc in the picture.
    """

    width: int
    height: int
    title: str
    shapes: tuple[Shape, ...]
    panels: tuple[Panel, ...]
    legend: tuple[tuple[str, str], ...]
    on_ground: str
    out_of_reach: tuple[Numbered, ...]
    twin: tuple[str, ...]
