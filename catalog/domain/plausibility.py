"""Whether the facts of a record can all be true of one vehicle, and of one catalogue.

Each check is a small function that says why. What blocks is refused; what needs a look goes to
the person who reviews. A disputed fact never blocks: that guides contradict is what it records.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from catalog.domain import plausible_cutoff, plausible_power, plausible_vehicle
from catalog.domain.facts import State
from catalog.domain.findings import Finding, Severity
from catalog.domain.plausible_parts import blocks, look, note
from catalog.domain.record import Record
from catalog.domain.sources import Source, parse_reference

Check = Callable[[Record], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (*plausible_vehicle.CHECKS, *plausible_power.CHECKS, *plausible_cutoff.CHECKS)


def implausible(record: Record) -> Iterator[Finding]:
    """Findings about one record, what blocks first."""
    found = [_softened(record, finding) for check in CHECKS for finding in check(record)]
    found += plausible_vehicle.points(record)
    yield from sorted(found, key=lambda finding: list(Severity).index(finding.severity))


def check_catalogue(records: Mapping[str, Record], sources: Mapping[str, Source]) -> Iterator[tuple[str, Finding]]:
    """(code, finding) about how records refer to each other and to sources.

    records: every record of an edition by code. sources: every source by "NUMBER/ISSUE".
    """
    for code, record in records.items():
        for finding in (*_links(code, record, records), *_pages(record, sources)):
            yield code, finding
    yield from _namesakes(records)


def _softened(record: Record, finding: Finding) -> Finding:
    disputed = record.fact(finding.path).state is State.DISPUTED
    return replace(finding, severity=Severity.LOOK) if disputed and finding.severity is Severity.BLOCKS else finding


_MUTUAL = (("twin_of", "twin_of"), ("replaces", "replaced_by"), ("replaced_by", "replaces"))


def _links(code: str, record: Record, records: Mapping[str, Record]) -> Iterator[Finding]:
    for mine, theirs in _MUTUAL:
        for position, other in enumerate(getattr(record.identity, mine), 1):
            path = f"identity.{mine}[#{position}]"
            if other == code:
                yield blocks(path, other, "a record does not refer to itself", "Remove it.")
            elif other not in records:
                yield blocks(path, other, "no record of this edition has this code", "Check the code.")
            elif code not in getattr(records[other].identity, theirs):
                yield blocks(path, other, f"that record does not name this one in {theirs}", f"Add {code} there.")
    if code in _ancestors(code, records):
        yield blocks("identity.replaces", code, "a record cannot replace itself over others", "Break the circle.")


def _ancestors(code: str, records: Mapping[str, Record]) -> set[str]:
    seen: set[str] = set()
    waiting = list(records[code].identity.replaces)
    while waiting:
        other = waiting.pop()
        if other not in seen and other in records:
            seen.add(other)
            waiting.extend(records[other].identity.replaces)
    return seen


def _namesakes(records: Mapping[str, Record]) -> Iterator[tuple[str, Finding]]:
    """Records nobody could tell apart by who they are."""
    first: dict[tuple[object, ...], str] = {}
    for code, record in records.items():
        who = record.identity
        key = (who.title, who.years, who.propulsion, frozenset(who.markets), frozenset(who.steering))
        other = first.setdefault(key, code)
        if other != code:
            why = f"{other} has the same name, years, propulsion, markets and steering"
            yield code, look("identity", who.title, why, "Say what tells them apart, or join them.")


def _pages(record: Record, sources: Mapping[str, Source]) -> Iterator[Finding]:
    for path, refs in _references(record):
        for ref in refs:
            reference = parse_reference(ref)
            source = sources.get(reference.key)
            if source is None:
                yield blocks(f"{path}.src", ref, "no source of this edition has this number and issue", "Add it first.")
            elif source.pages is None and reference.page is not None:
                yield look(f"{path}.src", ref, f"{source.short} has no pages", "Leave the page out.")
            elif source.pages is not None and reference.page is None:
                yield note(f"{path}.src", ref, f"{source.short} has pages", "Add the page.")
            elif source.pages is not None and reference.page is not None and reference.page > source.pages:
                why = f"{source.short} has {source.pages} pages"
                yield blocks(f"{path}.src", ref, why, "Check the page.")


def _references(record: Record) -> Iterator[tuple[str, tuple[str, ...]]]:
    yield "identity", record.identity.src
    for path, fact in record.facts.items():
        yield path, fact.sources()
    for path, fact in record.complete.items():
        yield f"complete.{path}", fact.sources()
    for entry in record.notes:
        yield f"notes[{entry.id}]", entry.src
