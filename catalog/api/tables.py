"""Rows of the docs page, read from the OpenAPI document: parameters and answer fields."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from catalog.api.examples import path_of
from catalog.api.operation import Operation
from schemas.requests import LAST_EDITION

_DEEPEST = 3
_FACT = "#/components/schemas/Fact"  # explained once, for the whole page


@dataclass(frozen=True, slots=True)
class Row:
    """One parameter or field. allowed: its kind and bounds in words. needed: must be there."""

    name: str
    where: str
    allowed: str
    needed: bool
    meaning: str


def parameters(document: Mapping[str, Any], operation: Operation) -> list[Row]:
    """Path and query parameters, or the fields of the body."""
    path = document["paths"][path_of(operation)]
    told = path[operation.method.lower()]
    rows = [_parameter(entry) for entry in [*path.get("parameters", ()), *told.get("parameters", ())]]
    if operation.takes_json:
        body = told["requestBody"]["content"]["application/json"]["schema"]
        rows += [Row(row.name, "body", row.allowed, row.needed, row.meaning) for row in fields(document, body)]
    return [row for row in rows if row.where != "header"]


def answer_fields(document: Mapping[str, Any], operation: Operation) -> list[Row]:
    """Fields of the answer, nested ones named like candidates[].code."""
    content = document["paths"][path_of(operation)][operation.method.lower()]["responses"]["200"]["content"]
    return fields(document, content[operation.media_type]["schema"])


def fields(document: Mapping[str, Any], schema: Mapping[str, Any]) -> list[Row]:
    """Fields of an object schema, a few levels deep into what has a name of its own."""
    return list(_walk(document, schema, "", 0))


def _walk(document: Mapping[str, Any], schema: Mapping[str, Any], prefix: str, depth: int) -> Iterator[Row]:
    whole = resolved(document, schema)
    for name, entry in whole.get("properties", {}).items():
        needed = name in whole.get("required", ())
        yield Row(f"{prefix}{name}", "answer", words(document, entry), needed, _meaning(document, entry))
        inner, mark = (entry["items"], "[]") if "items" in entry else (entry, "")
        if depth + 1 < _DEEPEST and inner.get("$ref", _FACT) != _FACT:
            yield from _walk(document, inner, f"{prefix}{name}{mark}.", depth + 1)


def resolved(document: Mapping[str, Any], schema: Mapping[str, Any]) -> Mapping[str, Any]:
    """A schema with its reference, if it is one, followed."""
    found: Mapping[str, Any] = schema
    while "$ref" in found:
        target: Any = document
        for part in found["$ref"].removeprefix("#/").split("/"):
            target = target[part]
        found = {**target, **{key: value for key, value in found.items() if key != "$ref"}}
    return found


def words(document: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    """A schema's kind and bounds: "whole number, 1 or more", "list: text"."""
    whole = resolved(document, schema)
    if "enum" in whole:
        return " or ".join(str(value) for value in whole["enum"] if value is not None)
    kind: Any = whole.get("type", "anything")
    kinds: list[str] = kind if isinstance(kind, list) else [kind]
    if "array" in kinds:
        return f"list: {words(document, whole['items'])}"
    said = " or ".join(_KINDS.get(name, name) for name in kinds)
    return ", ".join([said, *_bounds(whole)])


_KINDS = {
    "string": "text", "integer": "whole number", "number": "number", "boolean": "true or false",
    "object": "object", "null": "null",
}  # fmt: skip

_FORMATS = {"date": "YYYY-MM-DD", "date-time": "RFC 3339"}


def _bounds(schema: Mapping[str, Any]) -> Iterator[str]:
    if schema.get("format") in _FORMATS:
        yield _FORMATS[schema["format"]]
    low, high = schema.get("minimum"), schema.get("maximum")
    if low is not None and high is not None and high < LAST_EDITION:
        yield f"{low} to {high}"
    elif low is not None:
        yield f"{low} or more"
    if "maxLength" in schema:
        yield f"at most {schema['maxLength']} characters"
    if "default" in schema and schema["default"] not in (None, [], ""):
        yield f"{schema['default']} when left out"


def _meaning(document: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    return str(resolved(document, schema).get("description", ""))


def _parameter(entry: Mapping[str, Any]) -> Row:
    return Row(
        entry["name"],
        entry["in"],
        words({}, entry.get("schema", {})),
        bool(entry.get("required")),
        entry.get("description", entry.get("schema", {}).get("description", "")),
    )
