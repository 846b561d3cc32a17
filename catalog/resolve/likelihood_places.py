"""The scorer of charge port places."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from catalog.resolve.parameters import Parameters
from catalog.resolve.scorer import Averages, Vector

_OTHER = {"left": "right", "right": "left"}
_TURNED = {**_OTHER, "driver": "passenger", "passenger": "driver"}
Table = Mapping[str, Mapping[str, float]]


class PlaceScorer:
    """Side, end and level of one and the same port, averaged over the record's ports.

    Some witnesses swap left and right throughout, few of those who say from where they look (told).
    truths: {"places": [[side, end, level], ...], "steering": [...]}. values: "side|end|level", each
    part possibly "" (unsaid); side "driver" or "passenger" means a side of each record.
    """

    def __init__(
        self, _: str, truths: Sequence[Mapping[str, Any]], parameters: Parameters, *, told: bool = False
    ) -> None:
        self._tables = parameters.tables
        self._share: float = parameters.tables["mirrored"]["said" if told else "unsaid"]
        self._ports = [(*place, truth["steering"]) for truth in truths for place in truth["places"]]
        self._averages = Averages([len(truth["places"]) for truth in truths])
        self._factors: dict[tuple[str, str], Vector] = {}

    def score(self, values: Sequence[str]) -> Vector:
        return np.asarray((1 - self._share) * self._score(values) + self.mirrored(values))

    def mirrored(self, values: Sequence[str]) -> Vector:
        """The part of the score that is of witnesses who swap sides."""
        turned = []
        for value in values:
            side, _, rest = value.partition("|")
            turned.append(f"{_TURNED.get(side, side)}|{rest}")
        return np.asarray(self._share * self._score(turned))

    def _score(self, values: Sequence[str]) -> Vector:
        """Of witnesses who do not."""
        made = np.zeros(len(self._ports))
        for value in values:
            side, end, level = value.split("|")
            chance = np.ones(len(self._ports))
            for part, said in (("side", side), ("end", end), ("level", level)):
                if said:
                    chance *= self._factor(part, said)
            made += chance
        return np.minimum(1.0, self._averages.of(made))

    def _factor(self, part: str, said: str) -> Vector:
        """P(said | true) for one part of the place, per port; the few there are are kept."""
        if (part, said) not in self._factors:
            table: Table = self._tables[part]
            one = {"side": _side, "end": _end, "level": _level}[part]
            self._factors[part, said] = np.array([one(said, port, table) for port in self._ports])
        return self._factors[part, said]


def _end(said: str, port: tuple[Any, ...], table: Table) -> float:
    return table[port[1]].get(said, 0.0)


def _level(said: str, port: tuple[Any, ...], table: Table) -> float:
    return table[port[2]].get(said, 0.0)


def _side(said: str, port: tuple[Any, ...], table: Table) -> float:
    """ "driver" and "passenger" mean a side of each record, by the side its wheel is on."""
    true, wheels = port[0], [wheel for wheel in port[3] if wheel in _OTHER]
    if said not in ("driver", "passenger"):
        return table[true].get(said, 0.0)
    if not wheels:
        return 1 / 3
    meant = [wheel if said == "driver" else _OTHER[wheel] for wheel in wheels]
    return sum(table[true][side] for side in meant) / len(meant)
