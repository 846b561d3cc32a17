"""A record or source document -> the rows it fills, every state written out.

Blank in an export is only what says nothing by itself: the action, and a fact's own source where it is the row's.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from catalog.domain.record import list_paths
from catalog.intake.claims import NOT_STATED, fact_text, plain_text, sources_text
from catalog.intake.groups import BY_KEY, GROUPS, Group, Holds, Rows
from catalog.intake.kinds import CellKind, LastYear
from catalog.intake.tree import get
from catalog.intake.values import STILL_BUILT

# An export and a comparison ask this of every cell.
_FACT, _FACT_SOURCE, _PLAIN = Holds.FACT, Holds.FACT_SOURCE, Holds.PLAIN

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
    columns = _columns(group.key)
    stored = [None if path is None else held[path] if path in held else get(held, path) for _, _, path in columns]
    cited = [
        "" if fact is None or holds is not _FACT_SOURCE else sources_text(fact)
        for (_, holds, _), fact in zip(columns, stored, strict=True)
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
    for (kind, holds, _), there, said in zip(columns, stored, cited, strict=True):
        if holds is _FACT:
            made.append(NOT_STATED if there is None else fact_text(kind, there))
        elif holds is _FACT_SOURCE:
            made.append("" if said == shared else said)
        elif holds is _PLAIN:
            made.append(_plain(kind, there))
        else:
            made.append(ours.get(holds, ""))
    return made


def _plain(kind: CellKind, stored: Any) -> str:
    if stored is None:
        return STILL_BUILT if isinstance(kind, LastYear) else NOT_STATED
    return plain_text(kind, stored)


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


@cache
def _columns(key: str) -> tuple[tuple[Any, Holds, str | None], ...]:
    """(kind of cell, what it holds, where what it is about stands) of each column of a group.

    The kind is None only where the column holds no fact and no plain value; the place only where it is about no such
    thing. Keys of the sheet of lists hold dots and are whole.
    """
    aside = (Holds.POSITION, Holds.ROW_SOURCE)
    return tuple(
        (column.kind, column.holds, None if column.kind is None or column.holds in aside else column.key)
        for column in BY_KEY[key].columns
    )
