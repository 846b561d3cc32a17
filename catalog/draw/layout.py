"""Panels in rows: as large as the widest row allows, every vehicle edge beside the same edge of the next panel."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalog.draw.bodies import Body
from catalog.draw.faces import VIEW_WORDS, Stance
from catalog.draw.frame import Frame, frame_of

WIDTHS = {2: 3360, 1: 7140}  # a phone of 360 px and a sheet of A4, less their margins
_TALLEST = {2: 1180, 1: 1000}
_GAP = 150  # between a panel and the fold
_LETTER = 74  # a bold letter of 13 px, on the average
_MARK = 190  # the small compass before a label


@dataclass(frozen=True, slots=True)
class Cell:
    """A panel and the room it has. left, right: from fold to fold. at: its place in walking order, 4 for the top."""

    frame: Frame
    left: int
    right: int
    at: int
    on_top: bool


def label_of(view: str, on_top: bool) -> str:
    """What is written over a panel."""
    return f"{VIEW_WORDS[view]}, on top" if on_top else VIEW_WORDS[view]


def cells_for(body: Body, size: tuple[int, int, int], stance: Stance, rows: int) -> tuple[tuple[Cell, ...], ...]:
    """Rows of cells, the panels not yet set on the ground. size: length, width, height in mm."""
    told = [(view, turn, at) for at, (view, turn) in enumerate(stance.walked)]
    grid = [told] if rows == 1 else [told[:2], told[2:]]
    if stance.top:
        top = (stance.top, 0, 4)
        grid = [[*told, top]] if rows == 1 else [*grid, [top]]
    low, high = 1, 4000
    while low < high:
        middle = (low + high + 1) // 2
        if _fits(_frames(body, _scaled(size, middle), grid), rows):
            low = middle
        else:
            high = middle - 1
    framed = _frames(body, _scaled(size, low), grid)
    return tuple(_row(row, framed, rows) for row in framed)


Framed = Sequence[Sequence[tuple[Frame, int]]]


def _scaled(size: tuple[int, int, int], scale: int) -> tuple[int, int, int]:
    """scale: tenths of a pixel for a metre."""
    length, width, height = size
    return (length * scale // 1000, width * scale // 1000, height * scale // 1000)


def _frames(body: Body, size: tuple[int, int, int], grid: Sequence[Sequence[tuple[str, int, int]]]) -> Framed:
    return [[(frame_of(body, view, turn, size), at) for view, turn, at in row] for row in grid]


def _needs(frame: Frame, at: int) -> int:
    label = label_of(frame.view, at == 4)
    return max(frame.size[0] + _GAP, len(label) * _LETTER + _MARK + 40)


def _fits(framed: Framed, rows: int) -> bool:
    tall = max(frame.size[1] for row in framed for frame, _ in row)
    return tall <= _TALLEST[rows] and all(sum(_columns(row, framed, rows)) <= WIDTHS[rows] for row in framed)


def _columns(row: Sequence[tuple[Frame, int]], framed: Framed, rows: int) -> list[int]:
    """Width of each cell; in two rows the folds stand one below the other."""
    if rows == 1:
        return [_needs(frame, at) for frame, at in row]
    first = max(_needs(*pair[0]) for pair in framed if len(pair) == 2)
    return [first, _needs(*row[-1])]


def _row(row: Sequence[tuple[Frame, int]], framed: Framed, rows: int) -> tuple[Cell, ...]:
    columns = _columns(row, framed, rows)
    if rows == 1:
        spare = (WIDTHS[rows] - sum(columns)) // len(columns)
        columns = [column + spare for column in columns]
    else:
        # The same fold in every row: the narrowest spare room decides.
        spare = min(WIDTHS[rows] - sum(_columns(each, framed, rows)) for each in framed)
        first = columns[0] + spare * 2 // 5
        columns = [first, WIDTHS[rows] - first]
    cells = []
    left = 0 if len(row) == len(columns) else columns[0]
    for (frame, at), column in zip(row, columns[-len(row) :], strict=True):
        placed = replace(frame, left=left + (column - frame.size[0]) // 2)
        cells.append(Cell(placed, left, left + column, at, at == 4))
        left += column
    return tuple(cells)
