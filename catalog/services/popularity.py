"""How common each vehicle is where this host answers: optional, the site's own, from a file of two columns.

    code,share
    QPW-TF3,140
    KDF-F3R,12.5

Shares are in any unit (vehicles registered, calls a year). They make half of the prior, the other half is
even, and have a bar of their own in every explanation.
"""

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from catalog.errors import BadInput

HEADER = ["code", "share"]
_CURE = f"Write one line a record, {HEADER[0]},{HEADER[1]}, such as QPW-TF3,140."


@dataclass(frozen=True, eq=False)
class Popularity:
    """shares: record code -> share. Compared by identity, so that it can key caches."""

    shares: Mapping[str, float]


UNKNOWN = Popularity({})


def read_popularity(path: Path | None) -> Popularity:
    """The file's shares; UNKNOWN where there is none. Raises BadInput naming the line and the cure."""
    if path is None:
        return UNKNOWN
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.reader(file))
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput(f"The popularity file {path} cannot be read.", cure="Name a CSV file in UTF-8.") from error
    shares: dict[str, float] = {}
    for number, row in enumerate(rows, 1):
        cells = [cell.strip() for cell in row]
        if not any(cells) or (number == 1 and [cell.lower() for cell in cells] == HEADER):
            continue
        code, share = _line(cells, f"{path.name}, line {number}")
        if code in shares:
            raise BadInput(f"{path.name}, line {number}: {code} comes twice.", cure="Add its shares up in one line.")
        shares[code] = share
    return Popularity(shares)


def _line(cells: list[str], where: str) -> tuple[str, float]:
    if len(cells) != len(HEADER) or not cells[0]:
        raise BadInput(f"{where}: not two columns.", cure=_CURE)
    try:
        share = float(cells[1])
    except ValueError:
        share = math.nan
    if not (math.isfinite(share) and share >= 0):
        raise BadInput(f"{where}: the share is {cells[1]!r}.", cure="Use a number of 0 or more.")
    return cells[0], share
