"""A record document as flat fields, so that changes can be taken or left one by one and merged with others'.

Fields are named as `delta.difference` names changes: "identity.make", "ports[a].place" (one fact),
"order.ports" (the ids of a list), "complete.ports", "notes.a". A patch is {field: value}, None for
a field that goes. Only documents of the current format can be patched.
"""

from collections.abc import Iterable, Iterator, Mapping, Set
from typing import Any

from catalog.domain.record import FORMAT
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct

Document = dict[str, Any]
Fields = dict[str, Any]
ORDER, COMPLETE, NOTES, IDENTITY = "order.", "complete.", "notes.", "identity."


def fields_of(document: Mapping[str, Any] | None) -> Fields:
    """Every field of a document in its order; none of no document."""
    if document is None:
        return {}
    made: Fields = {f"{IDENTITY}{key}": value for key, value in document["identity"].items()}
    for section in TREE:
        stored = document.get(section.key)
        if stored is None:
            continue
        if isinstance(section, ListOf):
            made |= _list_fields(section.key, section, stored)
        else:
            made |= _node_fields(section.key, section.children, stored)
    made |= {f"{COMPLETE}{path}": fact for path, fact in document.get("complete", {}).items()}
    made |= {f"{NOTES}{note['id']}": note for note in document.get("notes", ())}
    return made


def document_of(fields: Mapping[str, Any]) -> Document:
    """The document of these fields; inverse of `fields_of`. A list without an order has its items as they come."""
    document: Document = {
        "format": FORMAT,
        "identity": {key.removeprefix(IDENTITY): fields[key] for key in fields if key.startswith(IDENTITY)},
    }
    for section in TREE:
        if isinstance(section, ListOf):
            made: Any = _list_document(section.key, section, fields)
        else:
            made = _node_document(section.key, section.children, fields)
        if made is not None:
            document[section.key] = made
    complete = {key.removeprefix(COMPLETE): fields[key] for key in fields if key.startswith(COMPLETE)}
    notes = [fields[key] for key in fields if key.startswith(NOTES)]
    if complete:
        document["complete"] = complete
    if notes:
        document["notes"] = notes
    return document


def patch_between(old: Mapping[str, Any] | None, new: Mapping[str, Any] | None) -> Fields:
    """What turns one document into the other. The order is among it where an item stays that loses all it stated."""
    before, after = fields_of(old), fields_of(new)
    made = {key: after.get(key) for key in dict.fromkeys([*before, *after]) if before.get(key) != after.get(key)}
    for path in _lists(before, after):
        key = f"{ORDER}{path}"
        if set(after.get(key, ())) & (_held(path, before) - _held(path, after)):
            made[key] = after[key]
    return made


def patched(document: Mapping[str, Any] | None, patch: Mapping[str, Any]) -> Document:
    """The document with a patch, or with some of one.

    An item that keeps a field stays in its list whatever the order says, and one all of whose fields go, goes, unless
    the patch has an order with it: taking the fields one by one states the same as taking the whole.
    """
    before = fields_of(document)
    after = {key: value for key, value in {**before, **patch}.items() if value is not None}
    for path in _lists(before, after):
        key = f"{ORDER}{path}"
        held = _held(path, after)
        emptied = set() if key in patch else _held(path, before) - held
        order = after.get(key, before.get(key, []) if held else None)
        if order is None:
            continue
        kept = [one for one in order if one not in emptied]
        after[key] = [*kept, *(one for one in held if one not in kept)]
    return document_of(after)


def item_of(path: str) -> str | None:
    """The list item a field belongs to, such as "ports[a]"; None where it is in no list."""
    return path[: path.index("]") + 1] if "]" in path else None


def _lists(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterable[str]:
    named = (*before, *after)
    inside = (name[: name.index("[")] for name in named if "[" in name)
    return dict.fromkeys([*inside, *(name.removeprefix(ORDER) for name in named if name.startswith(ORDER))])


def _held(path: str, fields: Mapping[str, Any]) -> Set[str]:
    """The items of a list that state something, in the order of the fields."""
    return dict.fromkeys(name[len(path) + 1 : name.index("]")] for name in fields if name.startswith(f"{path}[")).keys()


def _node_fields(prefix: str, nodes: tuple[Node, ...], stored: Mapping[str, Any]) -> Fields:
    made: Fields = {}
    for node in nodes:
        if node.key not in stored:
            continue
        path, value = f"{prefix}.{node.key}", stored[node.key]
        match node:
            case Attr():
                made[path] = value
            case Struct():
                made |= _node_fields(path, node.children, value)
            case ListOf():
                made |= _list_fields(path, node, value)
    return made


def _list_fields(path: str, node: ListOf, stored: list[Mapping[str, Any]]) -> Fields:
    made: Fields = {f"{ORDER}{path}": [entry["id"] for entry in stored]}
    for entry in stored:
        made |= _node_fields(f"{path}[{entry['id']}]", node.children, entry)
    return made


def _node_document(prefix: str, nodes: tuple[Node, ...], fields: Mapping[str, Any]) -> Document | None:
    made: Document = {}
    for key, value in _children(prefix, nodes, fields):
        made[key] = value
    return made or None


def _children(prefix: str, nodes: tuple[Node, ...], fields: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    for node in nodes:
        path = f"{prefix}.{node.key}"
        match node:
            case Attr():
                value = fields.get(path)
            case Struct():
                value = _node_document(path, node.children, fields)
            case ListOf():
                value = _list_document(path, node, fields)
        if value is not None:
            yield node.key, value


def _list_document(path: str, node: ListOf, fields: Mapping[str, Any]) -> list[Document] | None:
    order = fields.get(f"{ORDER}{path}")
    if order is None:
        return None
    return [{"id": one, **(_node_document(f"{path}[{one}]", node.children, fields) or {})} for one in order]
