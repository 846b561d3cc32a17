"""The outlines: a table of corners for every body style of the vocabulary, read once.

side: the left flank, x rearward and z up. front, rear: half distance from the centre line and z up. top: the roof, x
rearward and half distance. All permille of length, width, height; radii permille of height. Our own drawing, after no
maker's vehicle; typical sizes from memory, common practice, no source.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"
UNSAID = "hatchback"  # what is drawn where no body is stated; the drawing says so


@dataclass(frozen=True, slots=True)
class Part:
    """One line or area of a view. kind: "one" as it is, "half" closed over the centre line, "pair" on both sides."""

    css: str
    kind: str
    corners: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True)
class Body:
    """A body style. size: typical length, width, height in mm. axles: x of each. wheel: radius, permille of height.

    areas: view -> name of a pillar, rail or sill -> its middle line. tyres: half distance of the tyre's inner and
    outer side. handlebars: it has no cabin.
    """

    size: tuple[int, int, int]
    axles: tuple[int, ...]
    wheel: int
    views: Mapping[str, tuple[Part, ...]]
    areas: Mapping[str, Mapping[str, tuple[tuple[int, int], ...]]]
    tyres: tuple[int, int]


@cache
def bodies() -> Mapping[str, Body]:
    """Every body style, by its key."""
    document: Mapping[str, Any] = json.loads((DATA / "bodies.json").read_text("utf-8"))
    return {key: _body(told) for key, told in document.items()}


def body_of(key: str) -> Body:
    """The body style; the one of UNSAID where none is stated."""
    known = bodies()
    return known[key] if key in known else known[UNSAID]


def _body(told: Mapping[str, Any]) -> Body:
    length, width, height = told["size"]
    inner, outer = told.get("tyres", (370, 485))
    return Body(
        (length, width, height),
        tuple(told["axles"]),
        told["wheel"],
        {view: _parts(told[view]) for view in ("side", "front", "rear", "top")},
        {view: {name: _line(points) for name, points in named.items()} for view, named in told["areas"].items()},
        (inner, outer),
    )


def _parts(told: Sequence[Sequence[Any]]) -> tuple[Part, ...]:
    return tuple(Part(css, kind, tuple((a, b, radius) for a, b, radius in corners)) for css, kind, corners in told)


def _line(told: Sequence[Sequence[int]]) -> tuple[tuple[int, int], ...]:
    return tuple((a, b) for a, b in told)
