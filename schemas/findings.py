"""Findings of the gate: the error that carries them, and how marshmallow's tree becomes paths."""

import json
import re
from collections.abc import Iterator, Sequence
from typing import Any

from catalog.domain.findings import Finding, Severity
from catalog.errors import BadInput

__all__ = ["Finding", "Invalid", "Severity", "flatten", "item_mark", "path_text", "show"]

ITEM_ID = re.compile(r"[a-z][a-z0-9]{0,7}")
_SCHEMA = "_schema"
_LONGEST = 90


class Invalid(BadInput):
    """A document that is refused. findings: everything wrong with it, in document order."""

    def __init__(self, findings: Sequence[Finding], what: str = "document") -> None:
        self.findings = tuple(findings)
        blocking = [finding for finding in self.findings if finding.severity is Severity.BLOCKS]
        count = f"{len(blocking)} things are" if len(blocking) != 1 else "1 thing is"
        listed = "\n".join(f"- {finding}" for finding in blocking)
        super().__init__(f"{count} wrong in this {what}:\n{listed}")


def show(value: Any) -> str:
    """A value as it stands in the document, shortened; "nothing" where there is none."""
    try:
        text = json.dumps(value, ensure_ascii=False, default=lambda other: type(other).__name__)
    except RecursionError:
        return "something nested too deeply to show"
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def item_mark(stored: Any, position: int) -> str:
    """How an item of a list is named in a path: its id, or #1 for the first when it has none."""
    entry = stored[position] if isinstance(stored, list) and position < len(stored) else None
    named = entry.get("id") if isinstance(entry, dict) else None
    if isinstance(named, str) and ITEM_ID.fullmatch(named) and _ids(stored).count(named) == 1:
        return f"[{named}]"
    return f"[#{position + 1}]"


def path_text(document: Any, parts: Sequence[str | int]) -> str:
    """The path a steward reads, from keys and list positions."""
    made, node = "", document
    for part in parts:
        if isinstance(part, int):
            made += item_mark(node, part)
            node = node[part] if isinstance(node, list) and part < len(node) else None
        else:
            made += f".{part}" if made else part
            node = node.get(part) if isinstance(node, dict) else None
    return made


def flatten(errors: Any, document: Any) -> Iterator[Finding]:
    """Findings with whole paths, from marshmallow's nested messages.

    Our own fields put findings with paths relative to themselves into the tree; marshmallow's
    plain texts (a missing or misshapen part) are read as what is allowed there.
    """
    yield from _flatten(errors, document, document, ())


def _flatten(errors: Any, document: Any, node: Any, parts: tuple[str | int, ...]) -> Iterator[Finding]:
    match errors:
        case dict():
            for key, inner in errors.items():
                if key == _SCHEMA:
                    yield from _flatten(inner, document, node, parts)
                else:
                    yield from _flatten(inner, document, _step(node, key), (*parts, key))
        case list():
            for entry in errors:
                yield from _flatten(entry, document, node, parts)
        case Finding(path=path, found=found, allowed=allowed, cure=cure, severity=severity):
            whole = path_text(document, parts)
            joined = f"{whole}{path}" if path.startswith(("[", ".")) or not whole else f"{whole}.{path}"
            yield Finding((joined if path else whole).lstrip("."), found, allowed, cure, severity)
        case _:
            found = "nothing" if node is _NOTHING else show(node)
            yield Finding(path_text(document, parts), found, str(errors))


class _Nothing:
    """Stands where the document has no such key."""


_NOTHING = _Nothing()


def _step(node: Any, key: str | int) -> Any:
    if isinstance(node, dict) and key in node:
        return node[key]
    if isinstance(node, list) and isinstance(key, int) and key < len(node):
        return node[key]
    return _NOTHING


def _ids(stored: list[Any]) -> list[Any]:
    return [entry.get("id") for entry in stored if isinstance(entry, dict)]
