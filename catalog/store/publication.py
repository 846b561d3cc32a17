"""What is handed to `publish`, and the checks that need no database."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from catalog.domain.canonical import NotCanonical, canonical_bytes
from catalog.errors import BadInput
from catalog.store.vocabularies import vocabulary_documents

Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Publication:
    """What one person publishes, and why.

    records: documents by code, new or changed. reasons: why, by code; `reason` where missing.
    withdrawn: why a record must no longer be used, by code. sources: documents by
    "NUMBER/ISSUE". bases: the revision hash each change was made against, by code, a missing
    code being a new record; None when nobody can have published in between. update: the guide
    update it came with. vocabularies: the whole set, by key.
    """

    author: str
    reason: str
    records: Mapping[str, Document] = field(default_factory=dict)
    reasons: Mapping[str, str] = field(default_factory=dict)
    withdrawn: Mapping[str, str] = field(default_factory=dict)
    sources: Mapping[str, Document] = field(default_factory=dict)
    bases: Mapping[str, str] | None = None
    update: str = ""
    vocabularies: Mapping[str, Document] = field(default_factory=vocabulary_documents)


def check_publication(publication: Publication) -> None:
    """Refuse a publication that is unsigned, unexplained or contradicts itself. Raises BadInput."""
    check_text(publication.author, "author")
    check_text(publication.reason, "reason")
    content_of(publication.update, "The update")
    for code, reason in (*publication.reasons.items(), *publication.withdrawn.items()):
        check_text(reason, f"reason for {code}")
    for code in publication.records:
        check_text(code, "record code")
    both = publication.records.keys() & publication.withdrawn.keys()
    if both:
        raise BadInput(f"{min(both)} is both published and withdrawn.", cure="Leave one of the two out.")
    touched = publication.records.keys() | publication.withdrawn.keys()
    for name, codes in (("reason", publication.reasons), ("base", publication.bases or {})):
        if stray := codes.keys() - touched:
            raise BadInput(f"There is a {name} for {min(stray)}, which is not in the publication.")


def check_text(value: str, what: str) -> None:
    """Refuse a text that says nothing, or that cannot be hashed. Raises BadInput."""
    if not value.strip():
        raise BadInput(f"The {what} is empty.", cure="Everything published says who did it and why.")
    content_of(value, f"The {what}")


def content_of(document: object, name: str) -> bytes:
    """The canonical bytes. Raises BadInput naming the document and the place in it."""
    try:
        return canonical_bytes(document)
    except NotCanonical as error:
        raise BadInput(f"{name} cannot be stored: {error}.") from error
