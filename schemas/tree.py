"""The record's marshmallow schema, generated from the specification tree."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from catalog.domain.markets import MARKET
from catalog.domain.places import PLACE_VOCABULARIES
from catalog.domain.record import FORMAT, list_paths
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.spec.nodes import Terms
from catalog.domain.vocabulary import CATEGORY, PROPULSION, STEERING
from schemas.facts import check_complete, check_fact, complete_schema, fact_schema, sources_schema
from schemas.findings import ITEM_ID, Finding, show
from schemas.identity import IDENTITY
from schemas.plain import language_field, pattern_field, sources_field, text_field
from schemas.strict import Checked, Json, Part, Strict, named
from schemas.values import place_schema, text_definitions, vocabulary_schema

LONGEST_NOTE = 4000


@cache
def record_schema() -> Strict:
    """The schema of a whole record document of the current format."""
    parts: dict[str, Checked | Part] = {
        "format": Checked(_check_format, {"const": FORMAT}, required=True),
        "identity": Part(IDENTITY, "which vehicles the record is about", required=True),
    }
    for section in TREE:
        parts[section.key] = (
            _list(section)
            if isinstance(section, ListOf)
            else Part(_object(section.key, section.children), section.label)
        )
    complete = {path: Checked(check_complete, complete_schema()) for path in list_paths()}
    parts["complete"] = Part(named("Complete", complete), "lists that name all there is")
    parts["notes"] = Part(_note(), "notes", many=True)
    return named("Record", parts, _homes())()


def definitions() -> Json:
    """What the JSON Schema refers to by name: sources, places, every vocabulary in use."""
    known = [PROPULSION, CATEGORY, STEERING, MARKET, *PLACE_VOCABULARIES]
    known += [attr.kind.vocabulary for _, attr in _attributes() if isinstance(attr.kind, Terms)]
    return {
        "src": sources_schema(),
        "place": place_schema(),
        **text_definitions(),
        **{vocabulary.key: vocabulary_schema(vocabulary) for vocabulary in known},
    }


def _object(name: str, nodes: tuple[Node, ...]) -> type[Strict]:
    return named(name.title(), {node.key: _node(node) for node in nodes}, _homes())


def _node(node: Node) -> Checked | Part:
    match node:
        case Attr():
            return Checked(lambda stored: check_fact(node, stored), fact_schema(node))
        case Struct():
            return Part(_object(node.key, node.children), node.label)
        case ListOf():
            return _list(node)


def _list(node: ListOf) -> Part:
    parts = {"id": _id_field(), **{child.key: _node(child) for child in node.children}}
    return Part(named(node.item.title(), parts, _homes()), node.label, many=True)


def _note() -> type[Strict]:
    parts: dict[str, Checked | Part] = {
        "id": _id_field(),
        "lang": language_field(required=True),
        "text": text_field(LONGEST_NOTE, required=True, paragraphs=True),
        "src": sources_field(),
    }
    return named("Note", parts)


def _id_field() -> Checked:
    cure = "Pick a short name such as a, b or loop; it is never used again for another item."
    allowed = "a lower-case letter, then letters or digits, up to 8 in all"
    return pattern_field(f"^{ITEM_ID.pattern}(?![\\s\\S])", allowed, cure, required=True)


def _check_format(value: Any) -> Iterator[Finding]:
    if isinstance(value, bool) or value != FORMAT:
        yield Finding("", show(value), f"the number {FORMAT}, the format this program writes", f"Write {FORMAT}.")


@cache
def _homes() -> Mapping[str, str]:
    """Key -> the parts of the record it belongs in, for the message about a misplaced one."""
    found: dict[str, list[str]] = defaultdict(list)
    for home, attr in _attributes():
        found[attr.key].append(home)
    return {key: " or ".join(dict.fromkeys(homes)) for key, homes in found.items() if len(homes) <= 3}


def _attributes() -> Iterator[tuple[str, Attr]]:
    """(where it stands, attribute) of the whole tree."""
    stack: list[tuple[str, Node]] = []
    for section in TREE:
        home = f"{section.key}[]" if isinstance(section, ListOf) else section.key
        stack.extend((home, child) for child in section.children)
    while stack:
        home, node = stack.pop(0)
        if isinstance(node, Attr):
            yield home, node
        else:
            inner = f"{home}.{node.key}{'[]' if isinstance(node, ListOf) else ''}"
            stack.extend((inner, child) for child in node.children)
