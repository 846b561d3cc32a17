"""Small questions the plausibility checks ask of a record."""

from collections.abc import Iterator

from catalog.domain.facts import State, Value
from catalog.domain.findings import Finding, Severity
from catalog.domain.record import Record

HEAVY = ("M2", "M3", "N2", "N3")


def values(record: Record, path: str) -> tuple[Value, ...]:
    """Every value any side states at a path, "may be fitted" ones included."""
    return record.fact(path).values()


def stated(record: Record, path: str) -> bool:
    """Whether anybody gives a value at a path."""
    return bool(values(record, path))


def items(record: Record, path: str) -> Iterator[str]:
    """The path of each item of a list."""
    return (f"{path}[{item}]" for item in record.items.get(path, ()))


def has_none(record: Record, path: str) -> bool:
    """Whether a list is stated to hold nothing."""
    return path in record.complete and not record.items.get(path)


def light(record: Record) -> bool:
    """Two-, three- and light four-wheelers (categories L)."""
    return record.identity.category.startswith("L")


def heavy(record: Record) -> bool:
    """Buses and lorries."""
    return record.identity.category in HEAVY


def traction_packs(record: Record) -> Iterator[str]:
    """Packs that drive the vehicle; one whose use is not stated counts as such."""
    for pack in items(record, "energy.packs"):
        roles = values(record, f"{pack}.role")
        if not roles or "traction" in roles:
            yield pack


def absent(record: Record, path: str) -> bool:
    """Whether something is stated as not fitted, undisputed."""
    return record.fact(path).state is State.NOT_FITTED


def blocks(path: str, found: str, why: str, cure: str = "") -> Finding:
    return Finding(path, found, why, cure, Severity.BLOCKS)


def look(path: str, found: str, why: str, cure: str = "") -> Finding:
    return Finding(path, found, why, cure, Severity.LOOK)


def note(path: str, found: str, why: str, cure: str = "") -> Finding:
    return Finding(path, found, why, cure, Severity.NOTE)
