"""Ten boxes: how many of ten calls like this one, each row going on where the one before ended."""

from catalog.cli.paper import Paper
from catalog.resolve.chance import Boxes

WIDTH = 29  # ten boxes of two cells, a space between


def draw(row: Boxes, paper: Paper, *, dotted: bool = False) -> str:
    """One row. A box is two cells, a cell one half; dotted: the row of "not in this catalogue"."""
    mark = paper.clean("▒" if dotted else "█")
    cells = [mark if row.start <= cell < row.start + row.length else "_" for cell in range(20)]
    return " ".join("".join(cells[cell : cell + 2]) for cell in range(0, 20, 2))
