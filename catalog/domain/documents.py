"""Record documents: the JSON a record is stored as, and the object it stands for.

`record_from_document` trusts its input (stored, already validated); `schemas.record` is the
gate for anything from outside. The pair is the identity on valid documents (property test).
"""

from collections.abc import Iterator, Mapping
from typing import Any

from catalog.domain.facts import Fact, State, fact_to_document
from catalog.domain.places import Place
from catalog.domain.record import FORMAT, Identity, Note, Record, Years, list_paths
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.spec.nodes import Where

Document = dict[str, Any]

_PLAIN = ("make", "model", "variant", "propulsion", "category", "platform")
_SETS = ("steering", "markets", "names", "twin_of", "replaces", "replaced_by", "vins", "src")


def record_from_document(document: Mapping[str, Any]) -> Record:
    """Build the object. document: a valid record document of the current format."""
    facts: dict[str, Fact] = {}
    items: dict[str, tuple[str, ...]] = {}
    for section in TREE:
        stored = document.get(section.key)
        if stored is None:
            continue
        if isinstance(section, ListOf):
            _read_list(section.key, section, stored, facts, items)
        else:
            _read_nodes(section.key, section.children, stored, facts, items)
    complete = {path: _fact_from(entry, None) for path, entry in document.get("complete", {}).items()}
    notes = tuple(Note(n["id"], n["lang"], n["text"], tuple(n["src"])) for n in document.get("notes", ()))
    return Record(identity_from(document["identity"]), facts, items, complete, notes)


def document_from_record(record: Record) -> Document:
    """The document of an object; inverse of `record_from_document`."""
    document: Document = {"format": FORMAT, "identity": _identity_document(record.identity)}
    for section in TREE:
        if isinstance(section, ListOf):
            made: Any = _write_list(section.key, section, record)
        else:
            made = _write_nodes(section.key, section.children, record)
        if made is not None:
            document[section.key] = made
    if record.complete:
        document["complete"] = {
            path: fact_to_document(record.complete[path]) for path in list_paths() if path in record.complete
        }
    if record.notes:
        document["notes"] = [{"id": n.id, "lang": n.lang, "text": n.text, "src": list(n.src)} for n in record.notes]
    return document


def identity_from(stored: Mapping[str, Any]) -> Identity:
    """The identity from its stored object."""
    years = stored["years"]
    given: Document = {key: stored[key] for key in _PLAIN if key in stored}
    given |= {key: tuple(stored[key]) for key in _SETS if key in stored}
    return Identity(**given, years=Years(years["from"], years.get("to")))


def _identity_document(identity: Identity) -> Document:
    made: Document = {}
    for key in _PLAIN:
        value = getattr(identity, key)
        if value is not None:
            made[key] = value
    made["years"] = {"from": identity.years.since}
    if identity.years.until is not None:
        made["years"]["to"] = identity.years.until
    for key in _SETS:
        values = getattr(identity, key)
        if values:
            made[key] = list(values)
    return made


def _read_nodes(
    prefix: str,
    nodes: tuple[Node, ...],
    stored: Mapping[str, Any],
    facts: dict[str, Fact],
    items: dict[str, tuple[str, ...]],
) -> None:
    for node in nodes:
        if node.key not in stored:
            continue
        path, value = f"{prefix}.{node.key}", stored[node.key]
        match node:
            case Attr():
                facts[path] = _fact_from(value, node)
            case Struct():
                _read_nodes(path, node.children, value, facts, items)
            case ListOf():
                _read_list(path, node, value, facts, items)


def _read_list(
    path: str,
    node: ListOf,
    stored: list[Mapping[str, Any]],
    facts: dict[str, Fact],
    items: dict[str, tuple[str, ...]],
) -> None:
    items[path] = tuple(entry["id"] for entry in stored)
    for entry in stored:
        _read_nodes(f"{path}[{entry['id']}]", node.children, entry, facts, items)


def _fact_from(stored: Mapping[str, Any], attr: Attr | None) -> Fact:
    if "disputed" in stored:
        return Fact(State.DISPUTED, sides=tuple(_fact_from(side, attr) for side in stored["disputed"]))
    src = tuple(stored["src"])
    if stored.get("fitted") is False:
        return Fact(State.NOT_FITTED, src=src)
    value = _value_from(stored["value"], attr)
    if stored.get("fit") == "some":
        return Fact(State.MAY_BE_FITTED, value, src, stored.get("depends"))
    return Fact(State.STATED, value, src)


def _value_from(value: Any, attr: Attr | None) -> Any:
    if attr is not None and isinstance(attr.kind, Where):
        return place_from_document(value)
    return tuple(value) if isinstance(value, list) else value


def place_from_document(stored: Mapping[str, Any]) -> Place:
    """A place from its stored object."""
    at = stored.get("at")
    return Place(
        stored["side"],
        stored["end"],
        stored["level"],
        stored.get("landmark"),
        None if at is None else (at[0], at[1], at[2]),
    )


def _write_nodes(prefix: str, nodes: tuple[Node, ...], record: Record) -> Document | None:
    made: Document = {}
    for node in nodes:
        path = f"{prefix}.{node.key}"
        match node:
            case Attr():
                if path in record.facts:
                    made[node.key] = fact_to_document(record.facts[path])
            case Struct():
                inner = _write_nodes(path, node.children, record)
                if inner is not None:
                    made[node.key] = inner
            case ListOf():
                entries = _write_list(path, node, record)
                if entries is not None:
                    made[node.key] = entries
    return made or None


def _write_list(path: str, node: ListOf, record: Record) -> list[Document] | None:
    if path not in record.items:
        return None
    return [
        {"id": item, **(_write_nodes(f"{path}[{item}]", node.children, record) or {})} for item in record.items[path]
    ]


def references(document: Mapping[str, Any]) -> Iterator[str]:
    """Every source reference anywhere in the document, with repeats."""
    stack: list[Any] = [document]
    while stack:
        node = stack.pop()
        if isinstance(node, Mapping):
            yield from node.get("src", ()) if isinstance(node.get("src"), list) else ()
            stack.extend(node.values())
        elif isinstance(node, list):
            stack.extend(node)
