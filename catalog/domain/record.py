"""The vehicle record as an object: who it is, and every claim made of it.

Facts are held by path ("ports[a].door.mechanism"); a missing path is "not stated". The order
of `items` is the order of the document's lists, which is meaningful where the specification
says so (ways to cut high voltage off).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from catalog.domain.facts import NOT_STATED, Fact
from catalog.domain.spec import TREE, Attr, ListOf, Node, Section, Struct

FORMAT = 1


@dataclass(frozen=True, slots=True)
class Years:
    """Model years, both inclusive; until is None while it is still built."""

    since: int
    until: int | None = None

    def __str__(self) -> str:
        if self.until is None:
            return f"{self.since} on"
        return str(self.since) if self.since == self.until else f"{self.since}–{self.until}"


@dataclass(frozen=True, slots=True)
class Identity:
    """Which vehicles the record is about. steering: sides it is built with. vins: patterns with ?."""

    make: str
    model: str
    years: Years
    propulsion: str
    category: str
    steering: tuple[str, ...]
    markets: tuple[str, ...]
    src: tuple[str, ...]
    variant: str | None = None
    names: tuple[str, ...] = ()
    platform: str | None = None
    twin_of: tuple[str, ...] = ()
    replaces: tuple[str, ...] = ()
    replaced_by: tuple[str, ...] = ()
    vins: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        return " ".join(part for part in (self.make, self.model, self.variant) if part)


@dataclass(frozen=True, slots=True)
class Note:
    """Free text about the vehicle, in the language `lang` (BCP 47)."""

    id: str
    lang: str
    text: str
    src: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Record:
    """One vehicle record, without its code (codes are minted, never part of the content)."""

    identity: Identity
    facts: Mapping[str, Fact] = field(default_factory=dict)
    items: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    complete: Mapping[str, Fact] = field(default_factory=dict)
    notes: tuple[Note, ...] = ()

    def fact(self, path: str) -> Fact:
        """The fact at a path; "not stated" when nobody says anything."""
        return self.facts.get(path, NOT_STATED)


@dataclass(frozen=True, slots=True)
class Line:
    """One attribute of one record, whether stated or not."""

    section: Section | ListOf
    path: str
    attr: Attr
    fact: Fact


def lines(record: Record) -> Iterator[Line]:
    """Every attribute of the record in document order, "not stated" ones included."""
    for section in TREE:
        for path, attr in _paths(section, record.items):
            yield Line(section, path, attr, record.fact(path))


def attribute_at(path: str) -> Attr:
    """The attribute a path names. Raises KeyError for a path outside the specification."""
    shape = shape_of(path)
    return _SHAPES[shape]


@lru_cache(maxsize=20_000)  # asked of every fact of every record; records share most of their paths
def shape_of(path: str) -> str:
    """A path without its item ids: "ports[a].place" -> "ports[].place"."""
    made, inside = [], False
    for char in path:
        if char == "]":
            inside = False
        if not inside:
            made.append(char)
        if char == "[":
            inside = True
    return "".join(made)


def shapes() -> tuple[str, ...]:
    """The shape of every attribute's path, in document order."""
    return tuple(_SHAPES)


def list_paths() -> tuple[str, ...]:
    """The path of every list in the record, in document order."""
    return tuple(_LISTS)


def list_at(path: str) -> ListOf:
    """The list at a path such as "cutoff.methods". Raises KeyError."""
    return _LISTS[path]


def _paths(top: Section | ListOf, items: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, Attr]]:
    if isinstance(top, ListOf):
        yield from _list_paths(top.key, top, items)
    else:
        yield from _node_paths(top.key, top.children, items)


def _node_paths(
    prefix: str, nodes: tuple[Node, ...], items: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[str, Attr]]:
    for node in nodes:
        path = f"{prefix}.{node.key}"
        match node:
            case Attr():
                yield path, node
            case Struct():
                yield from _node_paths(path, node.children, items)
            case ListOf():
                yield from _list_paths(path, node, items)


def _list_paths(path: str, node: ListOf, items: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, Attr]]:
    for item in items.get(path, ()):
        yield from _node_paths(f"{path}[{item}]", node.children, items)


def _lists(top: Section | ListOf) -> Iterator[tuple[str, ListOf]]:
    if isinstance(top, ListOf):
        yield top.key, top
        return
    for node in top.children:
        if isinstance(node, ListOf):
            yield f"{top.key}.{node.key}", node


_LISTS: dict[str, ListOf] = {path: node for top in TREE for path, node in _lists(top)}
_SHAPES: dict[str, Attr] = {path: attr for top in TREE for path, attr in _paths(top, dict.fromkeys(_LISTS, ("",)))}
