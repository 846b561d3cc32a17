"""JSON documents of a file -> what they say of which record or source, whole or only what changes.

Around a document may stand {"kind": "record" or "source", "key": its code, "document": ...} as an export writes it;
{"key": ..., "changes": ...} holds only what changes: what is left out stays, "NOT STATED" takes a fact away, items of
lists are found by their id, {"id": ..., "remove": true} takes one away. {"key": ..., "action": "do not use",
"reason": ...} takes the whole record out of use.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from catalog.domain import codes
from catalog.intake.claims import NOT_STATED
from catalog.intake.finding import Finding
from catalog.intake.given import Given, Where
from catalog.intake.row import WITHDRAW
from catalog.intake.sheets import Document

Content = dict[str, Any]

_AROUND = {"kind", "key", "code", "edition", "revision", "action", "reason"}
_FACT = {"value", "fitted", "disputed"}


@dataclass(frozen=True, slots=True)
class DocumentGiven:
    """What one document says of one record. text: the document as compact JSON; b"" where there is none.

    partial: it holds only what changes. given: whose it is and where it stands; its `whole` and `sets` are not used.
    """

    given: Given
    text: bytes
    partial: bool


@dataclass(frozen=True, slots=True)
class SourceGiven:
    """A source document, and where it stands."""

    content: Content
    where: Where


def read_document(document: Document, file: str) -> DocumentGiven | SourceGiven | Finding:
    """What a document is about; a finding where that cannot be told. The document itself is not looked into."""
    where = Where(document.file or file, "", document.row, 0)
    about = dict(document.about)
    content = {} if about else document.content
    if not about and not content.keys() & {"identity", "format"} and content.keys() & {"key", "code", "action"}:
        about, content = content, {}
    if unknown := sorted(about.keys() - _AROUND):
        return _wrong(where, f"the key {unknown[0]}", f"around a document only {', '.join(sorted(_AROUND))}")
    kind = about.get("kind") or ("source" if {"number", "issue"} <= content.keys() else "record")
    if kind == "source":
        return SourceGiven(document.content, where)
    if kind != "record":
        return _wrong(where, f"the kind {kind}", "record or source")
    said = about.get("key") or about.get("code") or content.get("code") or ""
    code = codes.parse(said) if isinstance(said, str) else None
    if said and code is None:
        cure = "Copy it again, or leave it out for a new record; its last character checks the others."
        return _wrong(where, f"the code {said}", "a record code", cure)
    action, reason = str(about.get("action") or ""), str(about.get("reason") or "")
    if action and action != WITHDRAW:
        return _wrong(where, f"the action {action}", f'"{WITHDRAW}", or none')
    if document.partial and not code:
        cure = 'Add "key": the code of the record.'
        return _wrong(where, "changes of no record", "the record they are of", cure)
    given = Given(code or "", code or f"document {document.row}", action, reason, cells={"": where})
    return DocumentGiven(given, b"" if action else document.text, document.partial)


def document_of(base: Mapping[str, Any] | None, told: DocumentGiven, content: Content) -> Content:
    """The record's document as it should be. base: as it stands, left as it is. content: of the document."""
    if not told.partial:
        return {key: value for key, value in content.items() if key != "code"}
    return laid_over(base or {}, content)


def laid_over(base: Mapping[str, Any], changes: Mapping[str, Any]) -> Content:
    """An object with what changes laid over it; nothing of the base is altered."""
    made = dict(base)
    for key, value in changes.items():
        if value == NOT_STATED:
            made.pop(key, None)
        elif isinstance(value, dict) and not value.keys() & _FACT:
            made[key] = laid_over(made[key] if isinstance(made.get(key), dict) else {}, value)
            if not made[key]:
                del made[key]
        elif _is_items(value):
            items = _items_over(made.get(key) or [], value)
            made[key] = items
        else:
            made[key] = value
    return made


def _is_items(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(one, dict) and "id" in one for one in value)


def _items_over(there: list[Content], changes: list[Content]) -> list[Content]:
    by_id = {item["id"]: item for item in there}
    for change in changes:
        if change.get("remove") is True:
            by_id.pop(change["id"], None)
        else:
            by_id[change["id"]] = laid_over(by_id.get(change["id"], {}), change)
    return list(by_id.values())


def _wrong(where: Where, found: str, allowed: str, cure: str = "") -> Finding:
    return Finding(where.file, where.sheet, where.row, where.column, found, allowed, cure or "Write it so.")
