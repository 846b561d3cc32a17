"""A record or source document -> the rows it fills, every state written out.

Blank in an export is only what says nothing by itself: the action, and a fact's own source where it is the row's.
"""

from collections import Counter
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
                for position, item in enumerate(get(dict(document), group.path) or (), 1):
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
    shared = _shared_source(group, held)
    return [_cell(column, code, vehicle, held, position, shared) for column in group.columns]


def _cell(column: Column, code: str, vehicle: str, held: Document, position: int, shared: str) -> str:
    match column.holds:
        case Holds.CODE:
            return code
        case Holds.VEHICLE:
            return vehicle
        case Holds.ITEM:
            return str(held["id"])
        case Holds.POSITION:
            return str(position)
        case Holds.ROW_SOURCE:
            return shared
        case Holds.FACT:
            stored = _at(held, column.key)
            return NOT_STATED if stored is None else _fact(column, stored)
        case Holds.FACT_SOURCE:
            stored = _at(held, column.key)
            said = "" if stored is None else sources_text(stored)
            return "" if said == shared else said
        case Holds.PLAIN:
            return _plain(column, held)
    return ""


def _fact(column: Column, stored: Document) -> str:
    assert column.kind is not None
    return fact_text(column.kind, stored)


def _plain(column: Column, held: Document) -> str:
    assert column.kind is not None
    stored = _at(held, column.key)
    if stored is None:
        return STILL_BUILT if isinstance(column.kind, LastYear) else NOT_STATED
    return plain_text(column.kind, stored)


def _shared_source(group: Group, held: Document) -> str:
    """What most facts of the row rest on; disputed ones name theirs by themselves."""
    stored = [_at(held, column.key) for column in group.columns if column.holds is Holds.FACT]
    counts = Counter(sources_text(fact) for fact in stored if fact is not None and "disputed" not in fact)
    return counts.most_common(1)[0][0] if counts else ""


def _states(document: Document) -> Document:
    """Of every list that is all there is: a fact as its cell says it."""
    complete = document.get("complete", {})
    made: dict[str, Any] = {}
    for path in list_paths():
        if path in complete:
            items = get(dict(document), path)
            made[path] = {**complete[path], **({} if items else {"fitted": False})}
    return made


def _at(held: Document, key: str) -> Any:
    # Keys of the sheet of lists hold dots and are whole.
    return held[key] if key in held else get(dict(held), key)
