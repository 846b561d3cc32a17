"""How old the statements of each record are, how many cite no source, how many safety facts are not stated.

Reckoned once a revision: an edition in which one record changed costs one record.
"""

import json
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from catalog.compiled import Compiled
from catalog.domain.facts import State
from catalog.domain.record import lines
from catalog.domain.sources import parse_reference
from catalog.services.compiling import record_of


@dataclass(frozen=True, slots=True)
class Ages:
    """issued: how many facts rest on a newest issue of each ISO date. cited: how many rest on each source.

    facts: all that are stated. unsourced: that cite nothing listed. safety, silent: hazards and aids stated and not.
    """

    title: str
    facts: int
    unsourced: int
    issued: Mapping[str, int]
    cited: Mapping[str, int]
    safety: int
    silent: int

    def older_than(self, day: str) -> int:
        """How many facts rest on nothing issued since an ISO date."""
        return sum(count for issued, count in self.issued.items() if issued < day)


def record_ages(compiled: Compiled) -> dict[str, Ages]:
    """By code, of every record of an edition; the last edition's are kept."""
    return _ages(compiled)


@lru_cache(maxsize=2)
def _ages(compiled: Compiled) -> dict[str, Ages]:
    issued = {key: str(json.loads(compiled.source_bytes(key))["issued"]) for key in compiled.source_keys}
    kept, made = {}, {}
    for code in compiled.codes:
        revision = compiled.revision(code)[0]
        found = _known.get(revision)
        if found is None:
            found = _of(compiled.record_bytes(code), issued)
        kept[revision] = made[code] = found
    _known.clear()
    _known.update(kept)
    return made


_known: dict[str, Ages] = {}


def _of(content: bytes, issued: Mapping[str, str]) -> Ages:
    record = record_of(json.loads(content))
    dates: Counter[str] = Counter()
    cited: Counter[str] = Counter()
    unsourced = 0
    for fact in record.facts.values():
        keys = {parse_reference(text).key for text in fact.sources()} & issued.keys()
        cited.update(keys)
        if keys:
            dates[max(issued[key] for key in keys)] += 1
        else:
            unsourced += 1
    states = [line.fact.state for line in lines(record) if line.attr.critical]
    silent = states.count(State.NOT_STATED)
    return Ages(
        record.identity.title, len(record.facts), unsourced, dict(dates), dict(cited), len(states) - silent, silent
    )
