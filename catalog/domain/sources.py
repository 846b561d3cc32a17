"""Sources: what a fact rests on.

A source document is immutable per (number, issue); its key is "NUMBER/ISSUE" and a reference
names a page of it: "NUMBER/ISSUE:PAGE" (the page is left out for kinds without pages).
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from catalog.domain.terms import vocabulary

KIND = vocabulary(
    "source_kind", "kind of source",
    guide="maker's guide", sheet="maker's rescue sheet", sister="inferred from a sister vehicle",
    seen="seen by a crew", bulletin="maker's bulletin",
)  # fmt: skip

_KEY = r"[A-Z0-9][A-Z0-9-]{1,30}/[0-9]{1,4}"
KEY_PATTERN = re.compile(_KEY)
REFERENCE_PATTERN = re.compile(rf"({_KEY})(?::([1-9][0-9]{{0,3}}))?")


@dataclass(frozen=True, slots=True)
class Reference:
    """A page of a source. page is None for kinds without pages."""

    key: str
    page: int | None


@lru_cache(maxsize=20_000)  # many facts rest on one page
def parse_reference(text: str) -> Reference:
    """ "OPH-204/2:9" -> Reference("OPH-204/2", 9). Raises ValueError naming the text."""
    found = REFERENCE_PATTERN.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is not a source reference such as NUMBER/ISSUE:PAGE")
    return Reference(found[1], int(found[2]) if found[2] else None)


def number_and_issue(key: str) -> tuple[str, int]:
    """ "OPH-204/2" -> ("OPH-204", 2)."""
    number, _, issue = key.rpartition("/")
    return number, int(issue)


def newest_issues(keys: Iterable[str]) -> dict[str, int]:
    """The newest issue of each document number."""
    newest: dict[str, int] = {}
    for number, issue in map(number_and_issue, keys):
        newest[number] = max(issue, newest.get(number, 0))
    return newest


@dataclass(frozen=True, slots=True)
class GuideSection:
    """One section of a guide's text, at its page."""

    page: int
    heading: str
    text: str


@dataclass(frozen=True, slots=True)
class Source:
    """A source document. issued, retrieved: ISO dates. sha256: of the file it was read from."""

    kind: str
    number: str
    issue: int
    title: str
    publisher: str
    issued: str
    retrieved: str
    pages: int | None = None
    sha256: str | None = None
    lang: str = "en"
    sections: tuple[GuideSection, ...] = ()

    @property
    def key(self) -> str:
        return f"{self.number}/{self.issue}"

    @property
    def short(self) -> str:
        """How a crew reads it: "OPH-204 issue 2"."""
        return f"{self.number} issue {self.issue}"


def source_from_document(document: Mapping[str, Any]) -> Source:
    """Build the object from a valid source document."""
    plain = {key: value for key, value in document.items() if key not in ("sections", "format")}
    sections = tuple(GuideSection(s["page"], s["heading"], s["text"]) for s in document.get("sections", ()))
    return Source(**plain, sections=sections)
