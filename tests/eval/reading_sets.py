"""Annotated descriptions from JSON Lines; the format is in tests/eval/readings/README.md.

All faults of a file are told at once, each with file, line and cure.
"""

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from catalog.domain.folding import fold_name
from catalog.resolve.cue import ANOTHER, ASKED
from catalog.resolve.lexicon import Name
from tests.eval.reading_terms import BadSet, Fault, Said, Terms, read_cue
from tests.eval.reading_values import plain

PARTS = ("development", "last", "first")


@dataclass(frozen=True, slots=True)
class Line:
    """An annotated description. code: "" where no record was meant to be found, None for a vehicle not listed.

    names: what it is read with instead of the demo catalogue's. hidden: counted, never printed.
    where: file and line.
    """

    text: str
    said: tuple[Said, ...]
    masked: tuple[str, ...]
    hand: str
    code: str | None
    driving_side: str
    part: str
    names: tuple[Name, ...] | None
    hidden: bool
    where: str


def read_set(path: Path, terms: Terms) -> tuple[list[Line], Counter[str]]:
    """The lines of a file, and how many cues of each ignored attribute were left out. Raises BadSet."""
    lines: list[Line] = []
    faults: list[str] = []
    ignored: Counter[str] = Counter()
    for number, text in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if not text.strip():
            continue
        try:
            lines.append(_line(_object(text), f"{path.name}:{number}", terms, ignored))
        except Fault as fault:
            faults.append(f"{path.name}, line {number}: {fault}")
    if faults:
        raise BadSet("\n".join(faults))
    return lines, ignored


def _object(text: str) -> Mapping[str, Any]:
    try:
        row = json.loads(text)
    except ValueError as error:
        raise Fault(f"not JSON ({error}). Write one object a line.") from None
    if not isinstance(row, dict):
        raise Fault('not an object. Write {"text": ..., "cues": [...]}.')
    return row


def _line(row: Mapping[str, Any], where: str, terms: Terms, ignored: Counter[str]) -> Line:
    text = row.get("text")
    if not isinstance(text, str) or not text.strip():
        raise Fault('"text" is missing. Put the description there, as written.')
    if not isinstance(row.get("cues"), list):
        raise Fault('"cues" is missing or no list. Write [] where nothing is said of the vehicle.')
    said = [read_cue(entry, ASKED, terms, ignored) for entry in row["cues"]]
    said += [read_cue(entry, ANOTHER, terms, ignored) for entry in row.get("other") or ()]
    masked = tuple(row.get("masked") or ())
    for string in masked:
        if not isinstance(string, str) or text.count(string) < masked.count(string) or not string:
            raise Fault(f'"masked" has {string!r}, which is not in the text so often. Copy it from the text.')
    names = row.get("names")
    part = _one_of(row, "part", PARTS)
    return Line(
        text=text,
        said=tuple(entry for entry in said if entry is not None),
        masked=masked,
        hand=plain(str(row.get("hand") or "unsaid")),
        code=row.get("code", ""),
        driving_side=_one_of(row, "driving_side", ("left", "right")),
        part=part,
        names=None if names is None else tuple(Name(fold_name(shown), shown, kind) for shown, kind in names),
        hidden=part == "last" or bool(row.get("hidden")),
        where=where,
    )


def _one_of(row: Mapping[str, Any], key: str, known: Sequence[str]) -> str:
    value = row.get(key) or known[0]
    if value not in known:
        raise Fault(f'"{key}" is {value!r}. Use {", ".join(known)}, or leave it out for {known[0]}.')
    return str(value)
