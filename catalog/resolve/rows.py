"""What the search tables take from one record: its signatures, its titles, its names, its facts."""

import json
from dataclasses import dataclass
from sys import intern

from catalog.domain.folding import fold_name
from catalog.domain.record import Record
from catalog.domain.vocabulary import BODY, PROPULSION
from catalog.resolve.fact_values import encoded, facts_of
from catalog.resolve.truth import TRUTHS

Names = tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """One record to be searched. popularity: relative frequency on the site's roads, None if unknown."""

    code: str
    record: Record
    popularity: float | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """What the tables take from a record. truths: one signature per attribute, as canonical JSON.
    make: folded. names: see `names_of`. facts: one value per brief fact, see `facts_of`."""

    code: str
    popularity: float | None
    truths: tuple[str, ...]
    title: str
    subtitle: str
    make: str
    names: Names
    facts: tuple[str, ...]


def row_of(entry: Entry) -> Row:
    """What the tables take from one record."""
    record = entry.record
    return Row(
        code=entry.code,
        popularity=entry.popularity,
        truths=tuple(intern(encoded(truth(record))) for truth in TRUTHS.values()),
        title=record.identity.title,
        subtitle=subtitle(record),
        make=fold_name(record.identity.make),
        names=names_of(record),
        facts=facts_of(record),
    )


def names_of(record: Record) -> Names:
    """(folded, shown, kind) of every name a caller may use for the record, without repeats."""
    identity = record.identity
    said = [(identity.make, "make"), (identity.model, "model")]
    said += [(identity.variant, "variant")] if identity.variant else []
    said += [(name, "other") for name in identity.names]
    said += [
        (str(value), "badge")
        for item in record.items.get("looks.badges", ())
        for value in record.fact(f"looks.badges[{item}].text").values()
    ]
    made: dict[str, tuple[str, str, str]] = {}
    for shown, kind in said:
        folded = fold_name(shown)
        if folded:
            made.setdefault(folded, (folded, shown, kind))
    return tuple(made.values())


def subtitle(record: Record) -> str:
    """ "battery electric pickup, 2021–2024": what tells a record from its namesakes in a list."""
    bodies = [BODY.label_of(str(value)) for value in record.fact("looks.body").values()]
    body = " or ".join(bodies) or "body not stated"
    return f"{PROPULSION.label_of(record.identity.propulsion)} {body}, {record.identity.years}"


def packed(row: Row) -> bytes:
    """A row as JSON."""
    looks = (row.truths, row.title, row.subtitle, row.make, row.names, row.facts)
    return json.dumps((row.code, row.popularity, *looks), ensure_ascii=False).encode()


def unpacked(content: bytes) -> Row:
    """The row that was packed."""
    code, popularity, truths, title, below, make, names, facts = json.loads(content)
    return Row(
        code=code,
        popularity=popularity,
        truths=tuple(intern(truth) for truth in truths),
        title=title,
        subtitle=below,
        make=make,
        names=tuple((folded, shown, kind) for folded, shown, kind in names),
        facts=tuple(intern(fact) for fact in facts),
    )
