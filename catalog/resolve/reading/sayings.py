"""The reader's tables as documents, for an edition to list and a steward to review.

What the reader runs with ships with the program, since conditions and modifiers are code; an edition
lists the tables it was published with, so that it can be told later what could be read then.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalog.resolve.reading.words import DATA

PREFIX = "sayings-"
_ALIKE = "|"
# Roles of words that say something about other things said; a steward reads what they do, not "@not".
ROLES = {
    "@not": "denial", "@or": "alternative", "@hedge": "doubt", "@fix": "correction", "@yes": "yes",
    "@view": "viewpoint", "@than": "comparison", "@elsewhere": "another vehicle follows",
    "@other": "the other vehicle", "@ours": "this vehicle",
    "@asked": "what is asked about", "@badge": "a badge follows", "@trap": "says nothing of a vehicle",
    "@small": "says nothing by itself", "@port": "the charge port", "@side": "side", "@end": "end", "@level": "level",
    "@landmark": "landmark", "@each": "one on each side", "@another": "a second port",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Saying:
    """What reads as one value. attribute: of a cue, or a role in words. only_if: names of conditions in code.

    says: as in the table; "<word>" stands for each of a set, which is among `sets`.
    """

    attribute: str
    value: str
    says: tuple[str, ...]
    sets: Mapping[str, tuple[str, ...]]
    only_if: str = ""
    not_before: tuple[str, ...] = ()
    doubt: str = ""


@cache
def documents() -> Mapping[str, Any]:
    """Every table by the key an edition lists it under: "sayings-colour", "sayings-parts"..."""
    files = (*sorted((DATA / "phrases").glob("*.json")), *sorted(DATA.glob("*.json")))
    return {PREFIX + path.stem: _object(json.loads(path.read_text(encoding="utf-8"))) for path in files}


def _object(table: Any) -> Mapping[str, Any]:
    return table if isinstance(table, Mapping) else {"rows": table}


def listed(tables: Mapping[str, Any]) -> Iterator[Saying]:
    """The rows of tables such as `documents`, by table and in their order; word lists have none."""
    for key in sorted(tables):
        document = tables[key]
        if not (key.startswith(PREFIX) and isinstance(document, Mapping) and "rows" in document):
            continue
        sets = {name: tuple(entries) for name, entries in document.get("sets", {}).items()}
        for row in document["rows"]:
            if not isinstance(row, Mapping) or "say" not in row:
                continue
            says = tuple(row["say"])
            used = {name: entries for name, entries in sets.items() if any(f"<{name}>" in saying for saying in says)}
            attribute, value = _about(row)
            yield Saying(
                attribute,
                value,
                says,
                used,
                row.get("needs", ""),
                tuple(row.get("unless_next", ())),
                row.get("doubt", ""),
            )


def _about(row: Mapping[str, Any]) -> tuple[str, str]:
    """(attribute, value) in words, of a saying or of a part and what it is like."""
    if "attribute" in row:
        named = row["attribute"]
        return ROLES.get(named, named), str(row["value"]).replace(_ALIKE, " ") if named.startswith("@") else row[
            "value"
        ]
    part = row.get("noun") or row["like"]
    return f"{'part' if 'noun' in row else 'what is said of a part'}: {part.replace(_ALIKE, ', ')}", str(row["value"])
