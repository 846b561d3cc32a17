"""The sources a file brings: new ones, known ones, and those that would say something else than is published."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from catalog.domain.sources import Source
from catalog.intake.finding import Finding
from catalog.intake.given import Where
from catalog.services.importing_listed import Listed, without_texts
from catalog.services.passed import hash_of
from schemas.findings import Invalid
from schemas.source import load_source

Content = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Sources:
    """new: documents by "NUMBER/ISSUE". known: every source that may be cited, without texts."""

    new: dict[str, Content]
    known: Mapping[str, Source]


def check_sources(brought: Mapping[str, tuple[Content, Where]], listed: Listed) -> tuple[Sources, list[Finding]]:
    """Gate them. One that something blocks is left out, and what cites it then says so."""
    new: dict[str, Content] = {}
    known = dict(listed.sources)
    findings = []
    for key, (document, where) in brought.items():
        published = listed.source_hashes.get(key)
        if published is not None and hash_of(document) == published:
            continue  # what is published went through the gate
        try:
            load_source(document)
        except Invalid as invalid:
            findings += [
                Finding(where.file, where.sheet, where.row, 0, f.found, f.allowed, f.cure, f.severity, f.path, key)
                for f in invalid.findings
            ]
            continue
        if published is None:
            new[key] = document
            known[key] = without_texts(document)
        else:
            found, allowed = f"{key} with other content", "what is published of an issue never changes"
            cure = "Give a new issue its own number, or bring the rows as they are listed."
            findings.append(Finding(where.file, where.sheet, where.row, 0, found, allowed, cure, record=key))
    return Sources(new, known), findings
