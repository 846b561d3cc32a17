"""Example requests of the docs page and what the running catalogue answers to them, shortened."""

import re
import shlex
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote, urlencode

from flask import json
from marshmallow import ValidationError

from catalog.api import problems
from catalog.api.binding import PREFIX
from catalog.api.operation import Operation
from catalog.errors import ChockbookError
from catalog.services import editions, records
from catalog.services.house import House
from schemas.requests import ResolveRequest

_LONGEST = 2
_WIDEST, _WIDEST_INSIDE = 24, 8
_DEEPEST = 5
_REPORT = "k3VvX0cQ9b2LrT7mZ4aP1w8E"  # as the example of the operation "report" names it
_RULE = re.compile(r"<(?:[^:<>]+:)?([^<>]+)>")


@dataclass(frozen=True, slots=True)
class Examples:
    """Of one edition. found: something of it for every path parameter. answers: by the operation's name, as JSON."""

    found: Mapping[str, Any]
    answers: Mapping[str, str]


class Kept:
    """The examples of the newest edition, made once an edition: the page is asked for far more often than it changes.

    What could not be answered is not kept, and is asked again with the next page.
    """

    def __init__(self) -> None:
        self._of = ""
        self._made = Examples({}, {})

    def newest(self, house: House, operations: Sequence[Operation]) -> Examples:
        """Threads may make them twice; each time they are the same."""
        found = sample(house)
        edition = str(found.get("edition", ""))
        if edition and edition == self._of:
            return self._made
        answers, whole = {}, bool(edition)
        for one in operations:
            try:
                answers[one.name] = answer(one, found, house)
            except ChockbookError as error:
                answers[one.name], whole = str(error), False
        made = Examples(found, answers)
        if whole:
            self._of, self._made = edition, made
        return made


def path_of(operation: Operation) -> str:
    """The operation's key among the paths of the document."""
    return PREFIX + _RULE.sub(r"{\1}", operation.rule)


def sample(house: House) -> Mapping[str, Any]:
    """Something of the running catalogue for every path parameter, and the hash of its edition.

    Empty when nothing can be read.
    """
    try:
        listed = sorted(editions.list_editions(house), key=lambda edition: edition.number)
        first = min(records.list_records(house), key=lambda entry: entry.code)
        key = min(records.read_record(house, first.code).sources, default="/")
    except (ChockbookError, ValueError, IndexError):
        return {}
    number, issue = key.split("/")
    of = {"edition": listed[-1].hash, "a": listed[0].number, "to": listed[-1].number, "update": 1, "path": "looks.body"}
    of["report"] = _REPORT
    return {"code": first.code, "number": number, "issue": issue, **of}


def curl(operation: Operation, found: Mapping[str, Any], origin: str) -> str:
    """The example request as a command to paste."""
    address = origin + _RULE.sub(lambda name: quote(str(found.get(name[1], name[1].upper()))), operation.rule)
    token = ' -H "Authorization: Bearer $CHOCKBOOK_TOKEN"' if operation.right else ""
    if operation.files:
        query = urlencode(operation.example)
        name = shlex.quote(str(operation.example.get("name", "photo.jpg")))
        kind = f"-H 'Content-Type: {operation.files[0]}'"
        return f"curl -s {shlex.quote(f'{address}?{query}')}{token} {kind} \\\n  --data-binary @{name}"
    if operation.method == "POST":
        body = json.dumps(operation.example, ensure_ascii=False, sort_keys=False)
        return f"curl -s {address}{token} -H 'Content-Type: application/json' \\\n  -d {shlex.quote(body)}"
    query = urlencode({**operation.example, **{name: found.get(name, "") for name in operation.sampled}})
    return f"curl -s {shlex.quote(f'{address}?{query}')}{token}" if query else f"curl -s {address}{token}"


def answer(operation: Operation, found: Mapping[str, Any], house: House) -> str:
    """What the catalogue answers to the example, as indented JSON. Raises ChockbookError when it cannot."""
    if operation.right and not operation.shown:
        return "What is answered depends on who asks."
    if operation.media_type == "application/octet-stream":
        return "The file, where one is stored."
    needed = [*operation.path, *operation.sampled]
    if not all(name in found for name in needed):
        return "Nothing can be read from the catalogue now, so there is no example."
    given = {**operation.example, **{name: str(found[name]) for name in operation.sampled}}
    if operation.method == "GET":
        given = {name: str(value) for name, value in given.items()}
    path = {name: found[name] for name in operation.path}
    made = (operation.shown or operation.view)(house, {**path, **operation.request().load(given)})
    return json.dumps(shortened(made.document), ensure_ascii=False, sort_keys=False, indent=2)


def problem() -> str:
    """A real problem: what a misspelt field is answered with."""
    schema = ResolveRequest()
    try:
        schema.load({"text": "white pickup", "limt": 3})
    except ValidationError as error:
        refused = problems.RefusedRequest("body", tuple(schema.refusals(error.messages)))
        told = problems.payload(refused, "/api/v1/resolve", "desk-4.call-17")
        return json.dumps(told, ensure_ascii=False, sort_keys=False, indent=2)
    raise AssertionError("a misspelt field was accepted")


def shortened(node: Any, depth: int = 0) -> Any:
    """A document with long lists, wide and deep objects cut, saying how much is left out."""
    match node:
        case Mapping() if depth < _DEEPEST:
            kept = list(node.items())[: _WIDEST if depth == 0 else _WIDEST_INSIDE]
            made = {key: shortened(value, depth + 1) for key, value in kept}
            left = len(node) - len(kept)
            return made | ({"…": f"{left} more"} if left else {})
        case list() | tuple() if depth < _DEEPEST:
            more = [f"… {len(node) - _LONGEST} more"] if len(node) > _LONGEST else []
            return [*(shortened(entry, depth + 1) for entry in node[:_LONGEST]), *more]
        case Mapping() | list() | tuple():
            return f"… {len(node)} more" if node else node
        case _:
            return node
