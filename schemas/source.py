"""The gate for source documents: guides, sheets, bulletins and what crews saw."""

from collections.abc import Iterator
from datetime import date
from functools import cache
from typing import Any

from catalog.domain.record import FORMAT
from catalog.domain.sources import KIND, Source, source_from_document
from catalog.domain.spec.nodes import Number, Terms
from schemas.findings import Finding, Invalid, show
from schemas.form import form_findings
from schemas.plain import language_field, number_field, pattern_field, terms_field, text_field
from schemas.strict import Checked, Json, Part, Strict, named, object_schema
from schemas.values import text_definitions, vocabulary_schema

NUMBER = r"^[A-Z0-9][A-Z0-9-]{1,30}(?![\s\S])"
SHA256 = r"^[0-9a-f]{64}(?![\s\S])"
DATE = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}(?![\s\S])"
LONGEST_SECTION = 20_000
MOST_PAGES = 9999  # a reference has room for four digits
_WHAT = "source"


def load_source(document: Any) -> Source:
    """The source of a document from outside. Raises Invalid with every finding."""
    findings = form_findings(document, _schema(), _WHAT) or list(_contradictions(document))
    if findings:
        raise Invalid(findings, _WHAT)
    return source_from_document(document)


def source_json_schema() -> Json:
    """JSON Schema (draft 2020-12) of source documents."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:chockbook:schema:source:{FORMAT}",
        "title": "Chockbook source",
        "description": "What facts rest on. Immutable per number and issue; a new issue is a new source.",
        **object_schema(_schema()),
        "$defs": {KIND.key: vocabulary_schema(KIND), **text_definitions()},
    }


@cache
def _schema() -> Strict:
    section = {
        "page": number_field(Number("", 1, MOST_PAGES), required=True),
        "heading": text_field(120, required=True),
        "text": text_field(LONGEST_SECTION, required=True, paragraphs=True),
    }
    parts: dict[str, Checked | Part] = {
        "format": number_field(Number("", FORMAT, FORMAT), required=False),
        "kind": terms_field(Terms(KIND)),
        "number": pattern_field(NUMBER, "capitals, digits and hyphens, such as AB-204", required=True),
        "issue": number_field(Number("", 1, 9999), required=True),
        "title": text_field(160, required=True),
        "publisher": text_field(80, required=True),
        "issued": _date_field(),
        "retrieved": _date_field(),
        "pages": number_field(Number("", 1, MOST_PAGES), required=False),
        "sha256": pattern_field(SHA256, "the file's SHA-256 in lower-case hex", required=False),
        "lang": language_field(required=False),
        "sections": Part(named("GuideSection", section), "text by section", many=True),
    }
    return named("Source", parts)()


def _date_field() -> Checked:
    def check(value: Any) -> Iterator[Finding]:
        try:
            if not isinstance(value, str) or date.fromisoformat(value).isoformat() != value:
                raise ValueError
        except ValueError:
            yield Finding("", show(value), "a date such as 2026-03-02", "Write year-month-day.")

    return Checked(check, {"type": "string", "format": "date", "pattern": DATE}, required=True)


def _contradictions(document: dict[str, Any]) -> Iterator[Finding]:
    if document["issued"] > document["retrieved"]:
        yield Finding("retrieved", document["retrieved"], f"not before it was issued, {document['issued']}")
    pages = document.get("pages", MOST_PAGES)
    for position, section in enumerate(document.get("sections", ()), 1):
        if section["page"] > pages:
            cure = "Check the page, or the number of pages."
            yield Finding(f"sections[#{position}].page", str(section["page"]), f"1 to {pages}, its last page", cure)
    if document.get("sections") == []:
        yield Finding("sections", "[]", "sections, or no key at all")
