"""Kinds of cells that are not facts of the specification: names, codes, VIN patterns, sources, dates, list states."""

from dataclasses import dataclass

from catalog.domain.spec.nodes import Kind


@dataclass(frozen=True, slots=True)
class Names:
    """Several texts, one a line or with semicolons between; quotes around one that holds a semicolon."""


@dataclass(frozen=True, slots=True)
class Codes:
    """Record codes."""


@dataclass(frozen=True, slots=True)
class Vins:
    """VIN patterns of seventeen characters."""


@dataclass(frozen=True, slots=True)
class References:
    """Source references, NUMBER/ISSUE:PAGE."""


@dataclass(frozen=True, slots=True)
class Paragraphs:
    """Text that may have line breaks."""


@dataclass(frozen=True, slots=True)
class Day:
    """A date, written 2026-03-02."""


@dataclass(frozen=True, slots=True)
class LastYear:
    """The last model year, or that it is still built."""


@dataclass(frozen=True, slots=True)
class ListState:
    """Whether a list names all there is. item: what it lists, in words."""

    item: str


CellKind = Kind | Names | Codes | Vins | References | Paragraphs | Day | LastYear | ListState
