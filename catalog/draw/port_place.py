"""Where the charge port is, to tap: the vehicle from above and ten cells round and on it.

Left and right are the vehicle's. Standing at its tail one looks its way, and its left is to the left; standing at its
nose the whole picture is turned half round, words stay upright.
"""

from dataclasses import dataclass

from catalog.domain.places import END, SIDE
from catalog.draw.sketch import Label, Sketch, Stroke

WIDTH, HEIGHT = 340, 376
TAIL, NOSE = "tail", "nose"
QUESTION = {TAIL: "I stand at the tail", NOSE: "I stand at the nose"}


@dataclass(frozen=True, slots=True)
class PortCell:
    """A cell. value: of a port place cue, level unsaid. label: its lines. at: the point on the outline it means.

    on: lies on the outline itself, not beside it.
    """

    key: str
    value: str
    label: tuple[str, ...]
    x: int
    y: int
    width: int
    height: int
    at: tuple[int, int]
    on: bool = False


# side, end, then left, top, width, height of the cell, and the point meant; nose up.
_CELLS = (
    ("", "front_face", 94, 0, 152, 50, (170, 66), False),
    ("left", "front_quarter", 0, 58, 98, 80, (116, 98), False),
    ("centre", "front_quarter", 132, 84, 76, 48, (170, 108), True),
    ("right", "front_quarter", 242, 58, 98, 80, (224, 98), False),
    ("left", "middle", 0, 148, 98, 80, (112, 188), False),
    ("centre", "middle", 132, 164, 76, 48, (170, 188), True),
    ("right", "middle", 242, 148, 98, 80, (228, 188), False),
    ("left", "rear_quarter", 0, 238, 98, 80, (114, 278), False),
    ("right", "rear_quarter", 242, 238, 98, 80, (226, 278), False),
    ("", "rear_face", 94, 326, 152, 50, (170, 310), False),
)

# Those on the outline are narrow: a word for each.
_ON = {"front_quarter": ("bonnet",), "middle": ("middle",)}


def port_cells(stand: str = TAIL) -> tuple[PortCell, ...]:
    """The ten cells in reading order, as one stands at the tail or the nose. Raises KeyError for another place."""
    if stand not in QUESTION:
        raise KeyError(stand)
    made = [_cell(cell, stand == NOSE) for cell in _CELLS]
    return tuple(reversed(made)) if stand == NOSE else tuple(made)


def port_outline(stand: str = TAIL) -> Sketch:
    """The vehicle from above, turned as one stands. Raises KeyError for another place."""
    if stand not in QUESTION:
        raise KeyError(stand)
    turned = stand == NOSE
    strokes = (Stroke("body", _path(_BODY, turned)), Stroke("glass", _path(_SCREEN, turned)),
               Stroke("glass", _path(_REAR, turned)))  # fmt: skip
    nose, tail = (306, 80) if turned else (80, 306)
    labels = (Label(170, nose, "nose", 14, "middle"), Label(170, tail, "tail", 14, "middle"))
    return Sketch("port_place", "The vehicle from above", WIDTH, HEIGHT, strokes, labels)


# Outlines as an SVG path's letters and points, nose up.
_BODY = (("M", (136, 62)), ("Q", (170, 56, 204, 62)), ("Q", (222, 66, 225, 92)), ("L", (229, 190)),
         ("L", (226, 292)), ("Q", (224, 312, 204, 314)), ("L", (136, 314)), ("Q", (116, 312, 114, 292)),
         ("L", (111, 190)), ("L", (115, 92)), ("Q", (118, 66, 136, 62)), ("Z", ()))  # fmt: skip
_SCREEN = (("M", (123, 136)), ("L", (217, 136)), ("L", (208, 160)), ("L", (132, 160)), ("Z", ()))
_REAR = (("M", (131, 252)), ("L", (209, 252)), ("L", (216, 268)), ("L", (124, 268)), ("Z", ()))


def _path(steps: tuple[tuple[str, tuple[int, ...]], ...], turned: bool) -> str:
    made = []
    for letter, numbers in steps:
        points = [_turned(numbers[at], at % 2 == 0, turned) for at in range(len(numbers))]
        made.append(" ".join((letter, *(str(number) for number in points))))
    return " ".join(made)


def _turned(number: int, across: bool, turned: bool) -> int:
    if not turned:
        return number
    return (WIDTH if across else HEIGHT) - number


def _cell(cell: tuple[str, str, int, int, int, int, tuple[int, int], bool], turned: bool) -> PortCell:
    side, end, x, y, width, height, at, on = cell
    beside = (SIDE.label_of(side), END.label_of(end)) if side else (END.label_of(end),)
    label: tuple[str, ...] = _ON[end] if on else beside
    if turned:
        x, y = WIDTH - x - width, HEIGHT - y - height
    spot = (_turned(at[0], True, turned), _turned(at[1], False, turned))
    return PortCell(f"{side}-{end}" if side else end, f"{side}|{end}|", label, x, y, width, height, spot, on)
