"""Calls written by hand, from scene cards alone: what a caller says, bit by bit, and answers when asked.

JSON Lines, one call a line:

    {"id": "honest-01", "kind": "honest", "code": "QPW-TF3", "listed": true, "driving_side": "left",
     "utterances": ["...", "..."], "answers": {"tailpipe": "none"}, "other": {"body": ["bus"]}}

kind: one of `KINDS`. code: the vehicle the call is about, in the demo catalogue's newest edition. listed: false where
the catalogue asked must not hold it: its whole platform family is taken out. answers: question id -> option id, or a
name in the caller's words for "name"; a question that is not among them gets "can't tell". other: what only another
vehicle of the call shows, as attribute -> values; `[]` where nothing was said of it. How calls are written stands in
drills/README.md.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from catalog.resolve.questions.table import expert_questions

KINDS = (
    "honest", "mirrored", "stereotyping", "careless", "corrected", "second_language", "on_its_roof", "unlisted",
    "two_vehicles",
)  # fmt: skip
OWN = Path(__file__).parent / "drills" / "calls.jsonl"
_FIELDS = {"id", "kind", "code", "listed", "driving_side", "utterances", "answers", "other"}


@dataclass(frozen=True, slots=True)
class Call:
    """One call; fields as in the file."""

    id: str
    kind: str
    code: str
    listed: bool
    driving_side: str
    utterances: tuple[str, ...]
    answers: Mapping[str, str]
    other: Mapping[str, Sequence[str]]


def read_calls(path: Path, codes: Sequence[str]) -> tuple[Call, ...]:
    """The calls of a file. codes: the newest edition's. Exits naming line and cure where one cannot be used."""
    calls: list[Call] = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if line.strip():
            calls.append(_call(line, f"{path}:{number}", codes))
    ids = [call.id for call in calls]
    if twice := {id_ for id_ in ids if ids.count(id_) > 1}:
        raise SystemExit(f"{path}: {min(twice)} is there more than once. Give each call an id of its own.")
    if not calls:
        raise SystemExit(f"{path} holds no calls.")
    return tuple(calls)


def _call(line: str, where: str, codes: Sequence[str]) -> Call:
    try:
        row: Mapping[str, Any] = json.loads(line)
    except ValueError as error:
        raise SystemExit(f"{where}: not JSON: {error}. Write one object a line.") from error
    if row.keys() != _FIELDS:
        odd = sorted(row.keys() ^ _FIELDS)
        raise SystemExit(f"{where}: missing or unknown: {', '.join(odd)}. Give {', '.join(sorted(_FIELDS))}.")
    if row["kind"] not in KINDS:
        raise SystemExit(f"{where}: kind {row['kind']!r}. Use one of {', '.join(KINDS)}.")
    if row["code"] not in codes:
        raise SystemExit(f"{where}: {row['code']} is not in the demo catalogue's newest edition.")
    if row["driving_side"] not in ("left", "right"):
        raise SystemExit(f"{where}: driving_side {row['driving_side']!r}. Use left or right.")
    if not row["utterances"]:
        raise SystemExit(f"{where}: nobody says anything.")
    _check_answers(row["answers"], where)
    return Call(
        row["id"], row["kind"], row["code"], bool(row["listed"]), row["driving_side"], tuple(row["utterances"]),
        row["answers"], row["other"],
    )  # fmt: skip


def _check_answers(answers: Mapping[str, str], where: str) -> None:
    known = expert_questions().by_id
    for id_, answer in answers.items():
        if id_ not in known:
            raise SystemExit(f"{where}: there is no question {id_!r}. Use one of {', '.join(known)}.")
        options = [option.id for option in known[id_].options]
        if options and answer not in (*options, "cannot_tell"):
            raise SystemExit(f"{where}: {id_} has no answer {answer!r}. Use one of {', '.join(options)}, cannot_tell.")
