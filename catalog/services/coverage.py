"""What the facts of a catalogue rest on, counted."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from catalog.domain.facts import flatten
from catalog.domain.sources import parse_reference
from catalog.services.compiling import record_of

# Kinds of source that were published by somebody who answers for them.
_PUBLISHED = frozenset({"guide", "sheet", "bulletin"})


@dataclass(frozen=True, slots=True)
class Coverage:
    """Claims, counted: each side of a disputed fact is one. unsourced: cite nothing that is listed. pageless: cite no
    page. other: rest on nothing that a maker published. old: rest only on issues older than the newest listed."""

    facts: int
    unsourced: int
    pageless: int
    other: int
    old: int


def coverage_of(documents: Mapping[str, Mapping[str, Any]], sources: Mapping[str, Mapping[str, Any]]) -> Coverage:
    """documents: records by code. sources: by "NUMBER/ISSUE"."""
    kinds = {key: str(source["kind"]) for key, source in sources.items()}
    newest = newest_issues(sources)
    facts = unsourced = pageless = other = old = 0
    for src in _claims(documents.values()):
        facts += 1
        cited = [parse_reference(text) for text in src]
        listed = [one for one in cited if one.key in kinds]
        unsourced += not listed
        pageless += not any(one.page for one in cited)
        other += bool(listed) and not any(kinds[one.key] in _PUBLISHED for one in listed)
        old += bool(listed) and all(_issue(one.key) < newest[_number(one.key)] for one in listed)
    return Coverage(facts, unsourced, pageless, other, old)


def newest_issues(sources: Iterable[str]) -> dict[str, int]:
    """The newest issue of each document number."""
    made: dict[str, int] = {}
    for key in sources:
        made[_number(key)] = max(made.get(_number(key), 0), _issue(key))
    return made


def _claims(documents: Iterable[Mapping[str, Any]]) -> Iterator[tuple[str, ...]]:
    for document in documents:
        for _, claim in flatten(record_of(document).facts):
            yield claim.src


def _number(key: str) -> str:
    return key.rpartition("/")[0]


def _issue(key: str) -> int:
    return int(key.rpartition("/")[2])
