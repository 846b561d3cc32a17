"""JSON Schema (2020-12) of a record as answers write it out, for the OpenAPI document.

Shapes follow `schemas.written`; a contract test holds the two together.
"""

from collections.abc import Mapping
from typing import Any

from catalog.domain.facts import State
from catalog.domain.places import PLACE_VOCABULARIES
from catalog.domain.record import FORMAT, list_paths
from catalog.domain.spec import TREE, Attr, ListOf, Node, Struct
from catalog.domain.spec.nodes import Equipment, Kind, Number, Terms, Text, Use, Where, YesNo

Json = dict[str, Any]

_TEXT: Json = {"type": "string"}
_FITTABLE_ONLY = (State.NOT_FITTED, State.MAY_BE_FITTED)


def components() -> Mapping[str, Json]:
    """Schemas by component name: Record and what it is made of."""
    return {
        "Fact": _fact(),
        "FactSide": _claim("One side of a dispute."),
        "FactSource": _source(),
        "FactReading": _reading(),
        "Place": _place(),
        "ListState": _list_state(),
        "Record": _record(),
        "RecordDoubt": _doubt(),
        "DoubtMark": _doubt_mark(),
    }


def _ref(name: str) -> Json:
    return {"$ref": f"#/components/schemas/{name}"}


def _object(parts: Mapping[str, Json], *, optional: tuple[str, ...] = (), description: str = "") -> Json:
    made: Json = {
        "type": "object",
        "properties": dict(parts),
        "required": [name for name in parts if name not in optional],
        "additionalProperties": False,
    }
    return made | ({"description": description} if description else {})


def _list(items: Json, description: str = "") -> Json:
    made: Json = {"type": "array", "items": items}
    return made | ({"description": description} if description else {})


def _said(description: str, schema: Json = _TEXT) -> Json:
    return {**schema, "description": description}


def _claim(description: str, **more: Json) -> Json:
    parts: dict[str, Json] = {
        "state": _said("How it stands. not_stated is not none.", {"enum": [state.value for state in State]}),
        "value": {"description": "What is stated; absent where nothing is."},
        "label": _said("The value in words."),
        "depends": _said("What a fact that may be fitted depends on."),
        **more,
        "src": _list(_ref("FactSource"), "What it rests on."),
    }
    return _object(parts, optional=("value", "label", "depends", *more), description=description)


def _fact() -> Json:
    return _claim(
        "A fact in any of its five states.",
        sides=_list(_ref("FactSide"), "Every side, when disputed."),
        readings=_list(_ref("FactReading"), "What to assume, when it is not plainly stated."),
        doubted=_said("What to show beside it: somebody took it back to not stated.", _ref("DoubtMark")),
    )


def _source() -> Json:
    return _object(
        {
            "ref": _said("As facts cite it, NUMBER/ISSUE:PAGE."),
            "key": _said("NUMBER/ISSUE, as at /sources/NUMBER/ISSUE."),
            "title": _said("Its title; empty for an unknown source."),
            "kind": _said("guide, sheet, sister, seen or bulletin."),
            "short": _said("As a crew reads it."),
            "issued": _said("Date of issue.", {"type": "string", "format": "date"}),
            "page": _said("Page, where it has pages.", {"type": "integer", "minimum": 1}),
        },
        optional=("kind", "short", "issued", "page"),
        description="A page of a source.",
    )


def _reading() -> Json:
    return _object(
        {
            "use": _said("For what.", {"enum": [use.value for use in Use]}),
            "assume": _said("What to assume."),
            "words": _said("The same in words."),
        },
        description="How a fact that is not plainly stated is read.",
    )


def _place() -> Json:
    parts: dict[str, Json] = {entry.key: {"enum": list(entry.keys)} for entry in PLACE_VOCABULARIES}
    point: Json = {"type": "array", "minItems": 3, "maxItems": 3}
    parts["at"] = {**point, "items": {"type": "integer", "minimum": 0, "maximum": 1000}}
    parts["at"]["description"] = "Illustrative point, permille of length, width, height."
    return _object(
        parts,
        optional=("landmark", "at"),
        description="A zone of the vehicle. Left and right are the vehicle's, seated facing forward.",
    )


def _list_state() -> Json:
    return _object(
        {
            "label": _said("The list's name."),
            "state": {"enum": [State.STATED.value, State.NOT_STATED.value]},
            "complete": _said("Whether it names all there is.", {"type": "boolean"}),
            "words": _said("How to read it; an open list never proves absence."),
            "src": _list(_ref("FactSource")),
            "doubted": _list(_ref("DoubtMark"), "What was taken back of it: an item, or that these are all."),
        },
        optional=("doubted",),
        description="Whether a list names all there is.",
    )


def _record() -> Json:
    parts: dict[str, Json] = {
        "code": _said("The record's code."),
        "edition": _said("The edition it is taken from.", _ref("EditionShort")),
        "latest": _said("Number of the newest edition; when it differs, this is not the newest state.", _count()),
        "revision": _object({"seq": _count(), "hash": _TEXT}, description="Which revision of the record it is."),
        "withdrawn": _said("Why the record must not be used; empty when it may."),
        "doubts": _list(_ref("RecordDoubt"), "Facts taken back to not stated, newest first: to be shown."),
        "format": {"const": FORMAT},
        "identity": _identity(),
    }
    for section in TREE:
        parts[section.key] = _node(section) if isinstance(section, ListOf) else _nodes(section.children, section.label)
    parts["lists"] = _object({path: _ref("ListState") for path in list_paths()}, description="By the list's path.")
    parts["notes"] = _list(
        _object({"id": _TEXT, "lang": _TEXT, "text": _TEXT, "src": _list(_ref("FactSource"))}), "Free text."
    )
    parts["cautions"] = _list(_TEXT, "What must be said with this answer; show it with the answer.")
    return _object(parts, description="A record, every fact with its state.")


def _doubt_mark() -> Json:
    parts = {
        "path": _said("What is doubted of a list, such as ports[a] or complete.ports."),
        "since": _said("Since when, UTC.", {"type": "string", "format": "date-time"}),
        "read_as": _said("How it is read while it is not stated; empty for looks and notes."),
        "reason": _said("Why."),
    }
    return _object(parts, optional=("path",), description="A doubt beside what it took back to not stated.")


def _doubt() -> Json:
    parts = {
        "code": _said("The record's code."),
        "path": _said("What is doubted, such as ports[a].place; a whole item, such as ports[a]."),
        "label": _said("The same in words."),
        "since": _said("Since when, UTC.", {"type": "string", "format": "date-time"}),
        "edition": {**_count(), "description": "The edition published with it."},
        "revision": _said("Hash of the revision that said it."),
        "author": _said("Who doubts it."),
        "reason": _said("Why."),
        "reading": _said("How it is read while it is not stated; empty for looks and notes."),
        "mark": _said("What to show beside the fact: doubted since when, read as what."),
    }
    return _object(parts, description="A fact that somebody took back to not stated, and why.")


def _count() -> Json:
    return {"type": "integer", "minimum": 1}


def _identity() -> Json:
    years = _object(
        {"from": {"type": "integer"}, "label": _TEXT, "to": {"type": "integer"}},
        optional=("to",),
        description="Model years, both inclusive.",
    )
    one = ("title", "make", "model", "variant", "platform", "propulsion", "propulsion_label", "category")
    more = ("category_label", "steering_label", "markets_label")
    several = ("steering", "markets", "names", "twin_of", "replaces", "replaced_by", "vins")
    parts: dict[str, Json] = dict.fromkeys((*one, *more), _TEXT)
    parts |= {name: _list(_TEXT) for name in several}
    parts |= {"years": years, "src": _list(_ref("FactSource"))}
    return _object(parts, optional=("variant", "platform"), description="Which vehicles the record is about.")


def _nodes(nodes: tuple[Node, ...], label: str, **more: Json) -> Json:
    return _object({**more, **{node.key: _node(node) for node in nodes}}, description=label)


def _node(node: Node) -> Json:
    match node:
        case Attr():
            return _attribute(node)
        case Struct():
            return _nodes(node.children, node.label)
        case ListOf():
            return _list(_nodes(node.children, node.item, id=_TEXT), node.label)


def _attribute(attr: Attr) -> Json:
    narrowed: Json = {"value": _value(attr.kind)}
    if not attr.fittable:
        narrowed["state"] = {"enum": [state.value for state in State if state not in _FITTABLE_ONLY]}
    return {**_ref("Fact"), "description": attr.label, "properties": narrowed}


def _value(kind: Kind) -> Json:
    match kind:
        case Text():
            return _TEXT
        case Terms(vocabulary=vocabulary, many=many):
            one: Json = {"enum": list(vocabulary.keys)}
            return _list(one) if many else one
        case Number(unit=unit, low=low, high=high):
            made: Json = {"type": "integer", "minimum": low, "maximum": high}
            return _said(unit, made) if unit else made
        case YesNo():
            return {"type": "boolean"}
        case Equipment():
            return {"const": True}
        case Where():
            return _ref("Place")
