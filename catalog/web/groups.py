"""A record's facts group by group, straight from the specification.

A new attribute, struct or list in the specification appears here without a change.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from catalog.domain.facts import Fact
from catalog.domain.record import Record
from catalog.domain.sources import Source
from catalog.domain.spec import TREE, Attr, ListOf, Node, Section, Struct
from catalog.domain.spec.template_order import TemplateSection, template_sections
from catalog.domain.wording import sentence
from catalog.web.facts import FactView, SourceMark, fact_view, source_marks

# Light four-wheeled categories: what only heavy and two-wheeled vehicles have does not apply to
# them, so the group is folded to one line when nothing in it is stated.
_LIGHT = frozenset({"M1", "N1", "L6", "L7"})
_FOLDABLE = {"heavy": _LIGHT}


@dataclass(frozen=True, slots=True)
class Block:
    """Rows under one heading ("" for the group's own rows).

    empty: how an empty list is read, or "". whole: sources that say the list is complete. list_path: of a list,
    with its last block.
    """

    title: str
    rows: tuple[FactView, ...]
    empty: str = ""
    whole: tuple[SourceMark, ...] = ()
    first_of_list: bool = False
    list_title: str = ""
    open_list: bool = False
    list_path: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """A section of the record. folded: nothing stated and it does not apply to this category."""

    key: str
    title: str
    blocks: tuple[Block, ...]
    stated: int
    not_stated: int
    folded: bool


@dataclass(frozen=True, slots=True)
class _Walk:
    record: Record
    sources: Mapping[str, Source]

    def fact(self, path: str, attr: Attr) -> FactView:
        return fact_view(path, attr, self.record.fact(path), self.sources)


def record_groups(record: Record, sources: Mapping[str, Source]) -> dict[str, Group]:
    """Every group of the record by key, in document order."""
    walk = _Walk(record, sources)
    return {section.key: _group(section, walk) for section in TREE}


def template_groups(record: Record, sources: Mapping[str, Source]) -> tuple[Group, ...]:
    """The same facts in the order of ISO 17840-3."""
    walk = _Walk(record, sources)
    return tuple(_template_group(section, walk) for section in template_sections())


def _template_group(section: TemplateSection, walk: _Walk) -> Group:
    blocks: list[Block] = []
    for part in section.parts:
        if part.prefix:
            blocks += _blocks(part.prefix, part.nodes, walk)
        else:
            blocks += (
                block for node in part.nodes if isinstance(node, ListOf) for block in _list_blocks(node.key, node, walk)
            )
    stated, rows = _counted(blocks)
    title = f"{section.number} {section.title}"
    return Group(
        f"part-{section.number}",
        title,
        tuple(blocks),
        stated,
        len(rows) - sum(row.stated for row in rows),
        folded=False,
    )


def _counted(blocks: Sequence[Block]) -> tuple[int, list[FactView]]:
    """How much is stated, and every row."""
    rows = [row for block in blocks for row in block.rows]
    return sum(row.stated for row in rows) + sum(bool(block.whole) for block in blocks), rows


def _group(section: Section | ListOf, walk: _Walk) -> Group:
    if isinstance(section, ListOf):
        blocks = tuple(_list_blocks(section.key, section, walk))
    else:
        blocks = tuple(_blocks(section.key, section.children, walk))
    stated, rows = _counted(blocks)
    applies = walk.record.identity.category not in _FOLDABLE.get(section.key, frozenset())
    return Group(
        section.key,
        sentence(section.label),
        blocks,
        stated,
        len(rows) - sum(row.stated for row in rows),
        folded=not stated and not applies,
    )


def _blocks(prefix: str, nodes: tuple[Node, ...], walk: _Walk) -> Iterator[Block]:
    """Plain attributes gather in one block until a struct or list comes between."""
    gathered: list[FactView] = []
    for node in nodes:
        path = f"{prefix}.{node.key}"
        if isinstance(node, Attr):
            gathered.append(walk.fact(path, node))
            continue
        if gathered:
            yield Block("", tuple(gathered))
            gathered = []
        if isinstance(node, Struct):
            yield Block(sentence(node.label), tuple(_rows(path, node.children, walk)))
        else:
            yield from _list_blocks(path, node, walk)
    if gathered:
        yield Block("", tuple(gathered))


def _list_blocks(path: str, node: ListOf, walk: _Walk) -> Iterator[Block]:
    items = walk.record.items.get(path, ())
    complete: Fact | None = walk.record.complete.get(path)
    whole = source_marks(complete.sources(), walk.sources) if complete else ()
    title = sentence(node.label)
    if not items:
        empty = "none: stated to be none" if whole else node.empty
        yield Block("", (), sentence(empty), whole, first_of_list=True, list_title=title, list_path=path)
        return
    for position, item in enumerate(items):
        name = node.item if len(items) == 1 else f"{node.item} {position + 1} of {len(items)}"
        rows = tuple(_rows(f"{path}[{item}]", node.children, walk))
        last = position == len(items) - 1
        yield Block(
            sentence(name),
            rows,
            whole=whole if last else (),
            first_of_list=position == 0,
            list_title=title,
            open_list=last and not whole,
            list_path=path if last else "",
        )


def _rows(prefix: str, nodes: tuple[Node, ...], walk: _Walk) -> Iterator[FactView]:
    for node in nodes:
        path = f"{prefix}.{node.key}"
        if isinstance(node, Attr):
            yield walk.fact(path, node)
        elif isinstance(node, Struct):
            yield from _rows(path, node.children, walk)
