"""Facts in documents: the five states, exactly as `catalog.domain.facts` stores them."""

from collections.abc import Iterator
from itertools import combinations
from typing import Any

from catalog.domain.sources import REFERENCE_PATTERN
from catalog.domain.spec.nodes import Attr
from schemas.findings import Finding, show
from schemas.values import Schema, check_keys, check_repeats, check_text, check_value, text_schema, value_schema

LONGEST_DEPENDS = 200
_SIDES = "two or more sides that say different things"


def check_fact(attr: Attr, stored: Any) -> Iterator[Finding]:
    """Findings about one stored fact, paths relative to it."""
    if not isinstance(stored, dict):
        cure = f'Write {{"value": {show(stored)}, "src": [...]}}.'
        yield Finding("", show(stored), "a fact with its source", cure)
    elif "disputed" in stored:
        yield from _check_disputed(attr, stored)
    else:
        yield from _check_claim(attr, stored)


def fact_schema(attr: Attr) -> Schema:
    """JSON Schema of a fact: every state its attribute may have."""
    claims: list[Schema] = [_form({"value": value_schema(attr.kind)}, ["value"])]
    if attr.fittable:
        some = {
            "value": value_schema(attr.kind),
            "fit": {"const": "some", "title": "may be fitted"},
            "depends": text_schema(LONGEST_DEPENDS) | {"description": "what it depends on"},
        }
        claims += [_form({"fitted": {"const": False}}, ["fitted"]), _form(some, ["value", "fit"])]
    sides = {"type": "array", "items": {"oneOf": claims}, "minItems": 2, "uniqueItems": True}
    disputed = {
        "type": "object",
        "properties": {"disputed": sides},
        "required": ["disputed"],
        "additionalProperties": False,
    }
    readings = "; ".join(f"{reading.use}: {reading.words}" for reading in attr.readings)
    said = f"{attr.role}. Not stated is read as: {readings}" if readings else str(attr.role)
    return {"title": attr.label, "description": said, "oneOf": [*claims, disputed]}


def check_sources(value: Any) -> Iterator[Finding]:
    """A non-empty list of source references, none twice."""
    if not isinstance(value, list) or not value:
        found = "nothing" if value is None else show(value)
        yield Finding("src", found, "a list of sources", 'Name the page: "src": ["NUMBER/ISSUE:PAGE"].')
        return
    for position, ref in enumerate(value):
        if not isinstance(ref, str) or REFERENCE_PATTERN.fullmatch(ref) is None:
            cure = "Use capitals, digits and hyphens, then the issue and page."
            yield Finding(f"src[#{position + 1}]", show(ref), "a reference such as NUMBER/ISSUE:PAGE", cure)
    for finding in check_repeats(value):
        yield Finding(f"src{finding.path}", finding.found, "each source once", finding.cure)


def sources_schema() -> Schema:
    return {
        "title": "sources",
        "description": "pages this rests on: NUMBER/ISSUE:PAGE",
        "type": "array",
        "items": {"type": "string", "pattern": f"^{REFERENCE_PATTERN.pattern}(?![\\s\\S])"},
        "minItems": 1,
        "uniqueItems": True,
    }


def check_complete(stored: Any) -> Iterator[Finding]:
    """That a list names all there is: true, with who says so."""
    allowed = '{"value": true, "src": [...]}'
    if not isinstance(stored, dict) or stored.get("value") is not True:
        cure = "An open list is said by leaving this out."
        yield Finding("", show(stored), allowed, cure)
        return
    yield from check_keys(stored, ("value", "src"))
    yield from check_sources(stored.get("src"))


def complete_schema() -> Schema:
    return _form({"value": {"const": True}}, ["value"])


def _check_disputed(attr: Attr, stored: dict[str, Any]) -> Iterator[Finding]:
    yield from check_keys(stored, ("disputed",), "Sources belong to each side.")
    sides = stored["disputed"]
    if not isinstance(sides, list) or len(sides) < 2:
        yield Finding("disputed", show(sides), _SIDES, "With one side left, store that side alone.")
        return
    for position, side in enumerate(sides):
        prefix = f"disputed[#{position + 1}]"
        if not isinstance(side, dict) or "disputed" in side:
            yield Finding(prefix, show(side), "a side with its own source", "Write each side as a fact.")
            continue
        for finding in _check_claim(attr, side):
            path = f"{prefix}.{finding.path}" if finding.path else prefix
            yield Finding(path, finding.found, finding.allowed, finding.cure)
    said = [{key: value for key, value in side.items() if key != "src"} for side in sides if isinstance(side, dict)]
    if any(_same(one, other) for one, other in combinations(said, 2)):
        cure = "Join sides that agree into one, with both sources."
        yield Finding("disputed", "two sides that say the same", _SIDES, cure)


def _check_claim(attr: Attr, stored: dict[str, Any]) -> Iterator[Finding]:
    if "fitted" in stored:
        yield from _check_not_fitted(attr, stored)
    elif "value" in stored:
        yield from _check_stated(attr, stored)
    else:
        yield Finding("value", "nothing", "a value", "Leave the whole fact out to say not stated.")
        yield from check_keys(stored, ("value", "src", "fit", "depends"))
    yield from check_sources(stored.get("src"))


def _check_not_fitted(attr: Attr, stored: dict[str, Any]) -> Iterator[Finding]:
    yield from check_keys(stored, ("fitted", "src"), "Not fitted stands alone with its source.")
    if not attr.fittable:
        cure = "Leave the fact out to say not stated, or state its value."
        yield Finding("fitted", show(stored["fitted"]), f"a value: {attr.label} is never simply not fitted", cure)
    elif stored["fitted"] is not False:
        cure = 'Where it is fitted write {"value": ..., "src": [...]}.'
        yield Finding("fitted", show(stored["fitted"]), "false", cure)


def _check_stated(attr: Attr, stored: dict[str, Any]) -> Iterator[Finding]:
    yield from check_keys(stored, ("value", "src", "fit", "depends"))
    yield from check_value(attr.kind, stored["value"])
    if "fit" in stored and not attr.fittable:
        cure = "State what differs in a record of its own, or as disputed."
        yield Finding("fit", show(stored["fit"]), f"nothing: {attr.label} cannot be optional", cure)
    elif "fit" in stored and stored["fit"] != "some":
        yield Finding("fit", show(stored["fit"]), '"some": may be fitted', "Leave it out when it always is.")
    if "depends" in stored:
        if "fit" not in stored:
            cure = 'Add "fit": "some", or drop it.'
            yield Finding("depends", show(stored["depends"]), 'nothing without "fit": "some"', cure)
        for finding in check_text(stored["depends"], LONGEST_DEPENDS):
            yield Finding("depends", finding.found, finding.allowed, finding.cure)


def _same(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two sides claim the same; the order of a set does not matter."""
    return {**one, "value": _bag(one)} == {**other, "value": _bag(other)}


def _bag(claim: dict[str, Any]) -> Any:
    value = claim.get("value")
    return sorted(map(show, value)) if isinstance(value, list) else value


def _form(parts: Schema, required: list[str]) -> Schema:
    return {
        "type": "object",
        "properties": {**parts, "src": {"$ref": "#/$defs/src"}},
        "required": [*required, "src"],
        "additionalProperties": False,
    }
