"""A record or source document -> the rows it fills, every state written out.

Blank in an export is only what says nothing by itself: the action, and a fact's own source where it is the row's.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from catalog.domain.record import list_paths
from catalog.intake.claims import NOT_STATED, fact_text, plain_text, sources_text
from catalog.intake.groups import BY_KEY, GROUPS, Column, Group, Holds, Rows
from catalog.intake.kinds import LastYear
from catalog.intake.tree import get
from catalog.intake.values import STILL_BUILT

Document = Mapping[str, Any]
Row = list[str]


def rows_of(code: str, document: Document) -> Iterator[tuple[Group, Row]]:
    """(group, one text a column) of every row of a valid record document, in the order of the sheets."""
    who = document["identity"]
    vehicle = " ".join(who[key] for key in ("make", "model", "variant") if key in who)
    for group in GROUPS:
        match group.rows:
            case Rows.IDENTITY:
                yield group, _row(group, code, vehicle, who)
            case Rows.SECTION:
                yield group, _row(group, code, vehicle, document.get(group.path, {}))
            case Rows.ITEMS | Rows.NOTES:
                for position, item in enumerate(get(document, group.path) or (), 1):
                    yield group, _row(group, code, vehicle, item, position)
            case Rows.LISTS:
                yield group, _row(group, code, vehicle, _states(document))


def source_rows(document: Document) -> Iterator[tuple[Group, Row]]:
    """(group, one text a column) of every row of a valid source document."""
    yield BY_KEY["sources"], _row(BY_KEY["sources"], "", "", document)
    for section in document.get("sections", ()):
        told = {"number": document["number"], "issue": document["issue"], **section}
        yield BY_KEY["source texts"], _row(BY_KEY["source texts"], "", "", told)


def _row(group: Group, code: str, vehicle: str, held: Document, position: int = 0) -> Row:
    stored = [_at(held, column) for column in group.columns]
    cited = [
        "" if fact is None or column.holds is not Holds.FACT_SOURCE else sources_text(fact)
        for column, fact in zip(group.columns, stored, strict=True)
    ]
    shared = _shared(cited, stored)
    ours = {
        Holds.CODE: code,
        Holds.VEHICLE: vehicle,
        Holds.ITEM: str(held.get("id", "")),
        Holds.POSITION: str(position),
        Holds.ROW_SOURCE: shared,
    }
    made: Row = []
    for column, there, said in zip(group.columns, stored, cited, strict=True):
        holds = column.holds
        if holds is Holds.FACT:
            made.append(NOT_STATED if there is None else _fact(column, there))
        elif holds is Holds.FACT_SOURCE:
            made.append("" if said == shared else said)
        elif holds is Holds.PLAIN:
            made.append(_plain(column, there))
        else:
            made.append(ours.get(holds, ""))
    return made


def _fact(column: Column, stored: Document) -> str:
    assert column.kind is not None
    return fact_text(column.kind, stored)


def _plain(column: Column, stored: Any) -> str:
    assert column.kind is not None
    if stored is None:
        return STILL_BUILT if isinstance(column.kind, LastYear) else NOT_STATED
    return plain_text(column.kind, stored)


def _shared(cited: list[str], stored: list[Any]) -> str:
    """What most facts of the row rest on; disputed ones name theirs by themselves."""
    counts: dict[str, int] = {}
    for said, fact in zip(cited, stored, strict=True):
        if said and "disputed" not in fact:
            counts[said] = counts.get(said, 0) + 1
    return max(counts, key=lambda said: counts[said]) if counts else ""


def _states(document: Document) -> Document:
    """Of every list that is all there is: a fact as its cell says it."""
    complete = document.get("complete", {})
    made: dict[str, Any] = {}
    for path in list_paths():
        if path in complete:
            items = get(document, path)
            made[path] = {**complete[path], **({} if items else {"fitted": False})}
    return made


def _at(held: Document, column: Column) -> Any:
    """What a column's cell is about; None where nothing is stated, or the column is about no such thing."""
    if column.kind is None or column.holds in (Holds.POSITION, Holds.ROW_SOURCE):
        return None
    # Keys of the sheet of lists hold dots and are whole.
    return held[column.key] if column.key in held else get(held, column.key)
