"""The sheets of a workbook and their columns, made from the record's specification.

A group is one sheet of a workbook or one CSV file. Everything a fact has follows from its row in
`catalog.domain.spec`; only identity, notes and sources, which are no facts, have their columns written here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from catalog.domain.markets import MARKET
from catalog.domain.record import list_at, list_paths
from catalog.domain.sources import KIND
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.spec.nodes import Number, Terms, Text
from catalog.domain.vocabulary import CATEGORY, PROPULSION, STEERING
from catalog.intake.kinds import CellKind, Codes, Day, LastYear, ListState, Names, Paragraphs, References, Vins


class Holds(StrEnum):
    """What the cells of a column are."""

    CODE = "code"  # the record's code
    VEHICLE = "vehicle"  # its name, to find one's way; joins the rows of a vehicle that has no code yet
    ACTION = "action"
    REASON = "reason"
    ITEM = "item"  # record-local id
    POSITION = "position"  # of an item in its list
    FACT = "fact"
    FACT_SOURCE = "fact source"
    ROW_SOURCE = "row source"  # for every fact of the row that names none of its own
    PLAIN = "plain"  # not a fact: identity, notes, sources


class Rows(StrEnum):
    """What a row of a group is."""

    IDENTITY = "identity"
    SECTION = "section"
    ITEMS = "items"
    LISTS = "lists"
    NOTES = "notes"
    SOURCES = "sources"
    TEXTS = "texts"


@dataclass(frozen=True, slots=True)
class Column:
    """One column. key: path of what it holds within its group. kind, attr: None where it holds no value, no fact.

    needed: a new row must have it. at: its position in the group, from 0.
    """

    holds: Holds
    key: str
    heading: str
    kind: CellKind | None = None
    attr: Attr | None = None
    needed: bool = False
    at: int = -1

    @property
    def unit(self) -> str:
        """The unit whole numbers are kept in; "" for counts and everything else."""
        return self.kind.unit if isinstance(self.kind, Number) else ""

    @property
    def written(self) -> str:
        """The heading as it is written out: "nominal voltage [V]"."""
        return f"{self.heading} [{self.unit}]" if self.unit else self.heading


@dataclass(frozen=True, slots=True)
class Group:
    """One sheet. key: its name in a workbook and as a file. path: of the section or list its facts lie under."""

    key: str
    label: str
    rows: Rows
    path: str
    columns: tuple[Column, ...]

    def fact_path(self, column: Column, item: str) -> str:
        """The path of a fact in a row. item: the row's record-local id, "" where rows have none."""
        base = f"{self.path}[{item}]" if self.rows is Rows.ITEMS else self.path
        return f"{base}.{column.key}" if base else column.key


CODE = Column(Holds.CODE, "code", "code")
VEHICLE = Column(Holds.VEHICLE, "vehicle", "vehicle")
ACTION = Column(Holds.ACTION, "action", "action")
REASON = Column(Holds.REASON, "reason", "reason")
POSITION = Column(Holds.POSITION, "position", "position", Number("", 1, 999))
ROW_SOURCE = Column(Holds.ROW_SOURCE, "src", "source", References())
FIRST_YEAR = Number("", 1900, 2100)

IDENTITY_KEYS = (
    ("make", "make", Text(40)),
    ("model", "model", Text(40)),
    ("variant", "variant", Text(60)),
    ("years.from", "model years from", FIRST_YEAR),
    ("years.to", "model years to", LastYear()),
    ("propulsion", PROPULSION.label, Terms(PROPULSION)),
    ("category", CATEGORY.label, Terms(CATEGORY)),
    ("platform", "platform", Text(40)),
    ("steering", STEERING.label, Terms(STEERING, many=True)),
    ("markets", "markets", Terms(MARKET, many=True)),
    ("names", "other names", Names()),
    ("twin_of", "twin of", Codes()),
    ("replaces", "replaces", Codes()),
    ("replaced_by", "replaced by", Codes()),
    ("vins", "VIN patterns", Vins()),
)  # fmt: skip
NEEDED = ("make", "model", "years.from", "propulsion", "category", "steering", "markets", "src")


def _plain(key: str, heading: str, kind: CellKind, *, needed: bool = False) -> Column:
    return Column(Holds.PLAIN, key, heading, kind, None, needed)


_NUMBER = _plain("number", "number", Text(31), needed=True)
_ISSUE = _plain("issue", "issue", Number("", 1, 9999), needed=True)


def _groups() -> Iterator[Group]:
    identity = tuple(_plain(key, heading, kind, needed=key in NEEDED) for key, heading, kind in IDENTITY_KEYS)
    source = _plain("src", "source", References(), needed=True)
    yield Group("identity", "identity", Rows.IDENTITY, "identity", (CODE, VEHICLE, ACTION, REASON, *identity, source))
    for top in TREE:
        yield from (_items(top.key, top),) if isinstance(top, ListOf) else _section(top.key, top.label, top.children)
    states = tuple(
        column
        for path in list_paths()
        for column in _with_source(path, list_heading(path), ListState(list_at(path).item), None)
    )
    yield Group("lists", "lists that name all there is", Rows.LISTS, "complete", (CODE, VEHICLE, ROW_SOURCE, *states))
    notes = (
        _plain("lang", "language", Text(20), needed=True),
        _plain("text", "text", Paragraphs(), needed=True),
        _plain("src", "source", References(), needed=True),
    )
    item = Column(Holds.ITEM, "id", "note id", needed=True)
    yield Group("notes", "notes", Rows.NOTES, "notes", (CODE, VEHICLE, ACTION, item, POSITION, *notes))
    sources = (
        _plain("kind", KIND.label, Terms(KIND), needed=True),
        _plain("title", "title", Text(160), needed=True),
        _plain("publisher", "publisher", Text(80), needed=True),
        _plain("issued", "issued", Day(), needed=True),
        _plain("retrieved", "retrieved", Day(), needed=True),
        _plain("pages", "pages", Number("", 1, 9999)),
        _plain("sha256", "SHA-256 of the file", Text(64)),
        _plain("lang", "language", Text(20)),
        _plain("format", "format", Number("", 1, 99)),
    )
    yield Group("sources", "sources", Rows.SOURCES, "sources", (_NUMBER, _ISSUE, *sources))
    texts = (
        _plain("page", "page", Number("", 1, 9999), needed=True),
        _plain("heading", "heading", Text(120), needed=True),
        _plain("text", "text", Paragraphs(), needed=True),
    )
    yield Group("source texts", "texts of sources", Rows.TEXTS, "texts", (_NUMBER, _ISSUE, *texts))


def list_heading(path: str) -> str:
    """What a list is called where lists of several sections stand side by side."""
    labels = [list_at(other).label for other in list_paths()]
    label = list_at(path).label
    return label if labels.count(label) == 1 else f"{path.split('.')[0]}: {label}"


def _section(path: str, label: str, children: tuple[Node, ...]) -> Iterator[Group]:
    columns = tuple(_columns("", "", children))
    if columns:
        yield Group(path, label, Rows.SECTION, path, (CODE, VEHICLE, ROW_SOURCE, *columns))
    for child in children:
        if isinstance(child, ListOf):
            yield _items(f"{path}.{child.key}", child)


def _items(path: str, node: ListOf) -> Group:
    item = Column(Holds.ITEM, "id", f"{node.item} id", needed=True)
    columns = tuple(_columns("", "", node.children))
    key = path.replace(".", " ").replace("_", " ")
    return Group(key, node.label, Rows.ITEMS, path, (CODE, VEHICLE, ACTION, item, POSITION, ROW_SOURCE, *columns))


def _columns(prefix: str, label: str, nodes: tuple[Node, ...]) -> Iterator[Column]:
    for node in nodes:
        key = f"{prefix}{node.key}"
        if isinstance(node, Struct):
            yield from _columns(f"{key}.", node.label, node.children)
        elif isinstance(node, Attr):
            heading = f"{label}: {node.label}" if label and label not in node.label else node.label
            yield from _with_source(key, heading, node.kind, node)


def _with_source(key: str, heading: str, kind: CellKind, attr: Attr | None) -> Iterator[Column]:
    yield Column(Holds.FACT, key, heading, kind, attr)
    yield Column(Holds.FACT_SOURCE, key, f"{heading}: source", References())


def _numbered(group: Group) -> Group:
    return replace(group, columns=tuple(replace(column, at=at) for at, column in enumerate(group.columns)))


GROUPS: tuple[Group, ...] = tuple(_numbered(group) for group in _groups())
BY_KEY: Mapping[str, Group] = {group.key: group for group in GROUPS}
