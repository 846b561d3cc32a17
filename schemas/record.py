"""The gate for record documents: canonical form, structure, then plausibility.

To add an attribute, add its row to `catalog.domain.spec`; nothing here changes.
"""

from collections.abc import Iterator
from typing import Any

from catalog.domain.documents import record_from_document
from catalog.domain.plausibility import implausible
from catalog.domain.record import FORMAT, Record, list_paths
from catalog.domain.upgrade import TooNew, upgrade
from schemas.findings import Finding, Invalid, Severity, show
from schemas.form import form_findings
from schemas.strict import Json, object_schema
from schemas.tree import definitions, record_schema

_WHAT = "record"


def load_record(document: Any) -> Record:
    """The record of a document from outside. Raises Invalid with every finding."""
    return check_record(document)[0]


def check_record(document: Any) -> tuple[Record, tuple[Finding, ...]]:
    """The record, and what else to look at in it. Raises Invalid when anything blocks."""
    current = _current(document)
    structural = structure_findings(current)
    if structural:
        raise Invalid(structural, _WHAT)
    record = record_from_document(current)
    doubts = tuple(implausible(record))
    if any(finding.severity is Severity.BLOCKS for finding in doubts):
        raise Invalid(doubts, _WHAT)
    return record, doubts


def structure_findings(document: Any) -> list[Finding]:
    """Everything wrong with the form of a document of the current format."""
    found = form_findings(document, record_schema(), _WHAT)
    return found + list(_open_or_complete(document)) if isinstance(document, dict) else found


def record_json_schema() -> Json:
    """JSON Schema (draft 2020-12) of record documents, made from the same fields as the gate."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:chockbook:schema:record:{FORMAT}",
        "title": "Chockbook record",
        "description": (
            "The smallest set of vehicles a crew treats identically. An absent key means not stated, "
            "never none. Left and right are the vehicle's, seated facing forward."
        ),
        **object_schema(record_schema()),
        "$defs": definitions(),
    }


def _current(document: Any) -> Any:
    """The document in the current format; one without a readable format is left as it is."""
    if not isinstance(document, dict):
        return document
    stored = document.get("format")
    if not isinstance(stored, int) or isinstance(stored, bool) or stored < 1:
        return document
    try:
        return upgrade(document)
    except TooNew as error:
        raise Invalid([Finding("format", str(stored), error.message, error.cure)], _WHAT) from error


def _open_or_complete(document: dict[str, Any]) -> Iterator[Finding]:
    """An empty list means none, so somebody must say so; saying so needs the list."""
    complete = document.get("complete")
    said = complete if isinstance(complete, dict) else {}
    for path in list_paths():
        stored = _at(document, path)
        if stored == [] and path not in said:
            cure = f'Leave it out to say not stated, or state that there is none under "complete": {{"{path}": ...}}.'
            yield Finding(path, "an empty list", "items, or nobody can tell none from not stated", cure)
        if path in said and stored is None:
            cure = "Write the list; an empty one with its entry here says there is none."
            yield Finding(f"complete.{path}", show(said[path]), f"an entry only beside the list {path}", cure)


def _at(document: dict[str, Any], path: str) -> Any:
    node: Any = document
    for key in path.split("."):
        node = node.get(key) if isinstance(node, dict) else None
    return node
