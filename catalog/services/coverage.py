"""What the facts of a catalogue rest on, counted."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from catalog.domain.facts import flatten
from catalog.domain.sources import newest_issues, number_and_issue, parse_reference
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


def cited_by(documents: Iterable[Mapping[str, Any]]) -> Counter[tuple[str, ...]]:
    """How many claims of these records cite just so, by what they cite."""
    return Counter(claim.src for document in documents for _, claim in flatten(record_of(document).facts))


def coverage_of(cited: Mapping[tuple[str, ...], int], sources: Mapping[str, Mapping[str, Any]]) -> Coverage:
    """cited: see `cited_by`. sources: by "NUMBER/ISSUE"."""
    kinds = {key: str(source["kind"]) for key, source in sources.items()}
    newest = newest_issues(sources)
    unsourced = pageless = other = old = 0
    for src, claims in cited.items():
        references = [parse_reference(text) for text in src]
        listed = [one for one in references if one.key in kinds]
        unsourced += 0 if listed else claims
        pageless += 0 if any(one.page for one in references) else claims
        if listed:
            other += 0 if any(kinds[one.key] in _PUBLISHED for one in listed) else claims
            old += claims if all(_is_old(one.key, newest) for one in listed) else 0
    return Coverage(sum(cited.values()), unsourced, pageless, other, old)


def _is_old(key: str, newest: Mapping[str, int]) -> bool:
    number, issue = number_and_issue(key)
    return issue < newest[number]
