"""The form of a whole document: what no document may hold, then its schema, each fault once."""

from collections.abc import Iterator
from typing import Any

from marshmallow import ValidationError

from catalog.domain.canonical import Path, refusals
from schemas.findings import Finding, flatten, path_text, show
from schemas.strict import Strict


def form_findings(document: Any, schema: Strict, what: str) -> list[Finding]:
    """Everything wrong with the form of a document. what: "record", "source"."""
    refused = [_refused(document, parts, why) for parts, why in refusals(document)]
    if not isinstance(document, dict):
        return [Finding("", show(document), f"a {what}: an object")]
    covered = [finding.path for finding in refused]
    return refused + [finding for finding in _misshapen(document, schema) if not _covers(finding.path, covered)]


def _misshapen(document: dict[str, Any], schema: Strict) -> Iterator[Finding]:
    try:
        schema.load(document)
    except ValidationError as error:
        yield from flatten(error.messages, document)


def _refused(document: Any, parts: Path, why: str) -> Finding:
    node = document
    for part in parts:
        node = node[part]
    return Finding(path_text(document, tuple(part for part in parts if part != "value")), show(node), why)


def _covers(path: str, refused: list[str]) -> bool:
    """Whether a refusal at or below the same path already says it."""
    return bool(path) and any(other == path or other.startswith((f"{path}.", f"{path}[")) for other in refused)
