"""JSON documents: one object, a list of them, or one a line. What they mean is not looked at here."""

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Any, NoReturn

from catalog.intake.files.limits import Limits
from catalog.intake.files.refusing import Refused
from catalog.intake.files.wire import Writer
from catalog.intake.finding import Finding
from catalog.intake.sheets import Document

# What may stand around a document, and around what changes of one.
WHOLE, PARTIAL = "document", "changes"


def read_lines(text: str, file: str, limits: Limits, out: Writer) -> None:
    """One document a line; a line that is none is a finding, and the others are read. Raises Refused."""
    parser = _Parser(limits)
    for number, line in enumerate(text.split("\n"), 1):
        if not line.strip():
            continue
        try:
            node = parser.parse(line, number)
            _put(node, _twice_in(node) if parser.twice else "", Document(number, b"", file=file), limits, out)
        except Refused as refused:
            out.finding(Finding(file, "", number, refused.column, refused.found, refused.allowed, refused.cure))


def read_whole(text: str, file: str, limits: Limits, out: Writer) -> None:
    """A document, a list of them, or {"records": [...]}. Raises Refused."""
    parser = _Parser(limits)
    whole = parser.parse(text, 0)
    if isinstance(whole, dict) and isinstance(whole.get("records"), list):
        whole = [*whole.get("sources", ()), *whole["records"]]
    for number, node in enumerate(whole if isinstance(whole, list) else [whole], 1):
        try:
            _put(node, _twice_in(node) if parser.twice else "", Document(number, b"", file=file), limits, out)
        except Refused as refused:
            out.finding(Finding(file, "", number, 0, refused.found, refused.allowed, refused.cure))


def _put(node: Any, twice: str, place: Document, limits: Limits, out: Writer) -> None:
    if out.documents >= limits.documents:
        raise Refused(f"more than {limits.documents:,} documents", f"at most {limits.documents:,}", "Split it.")
    if not isinstance(node, dict):
        raise Refused(f"{_kind(node)}", "a document: an object", "Put each record into braces.")
    if twice:
        raise Refused(f"the key {twice} twice in one object", "each key once", "Keep the one that is right.")
    inner = next((key for key in (WHOLE, PARTIAL) if isinstance(node.get(key), dict)), None)
    about = {key: value for key, value in node.items() if key != inner} if inner else {}
    text = _compact(node[inner] if inner else node)
    if len(text) > limits.document:
        cure = "Shorten its notes, or split what is not one record."
        raise Refused(f"a document of {len(text):,} bytes", f"at most {limits.document:,}", cure)
    out.document(replace(place, text=text, about=about, partial=inner == PARTIAL))


_TWICE = "\0twice"


class _Parser:
    """twice: whether the text parsed last has an object with a key that is there twice."""

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self.twice = False

    def parse(self, text: str, line: int) -> Any:
        self.twice = False
        try:
            with _shallow(self._limits.depth):
                return json.loads(
                    text, object_pairs_hook=self._object, parse_int=self._whole, parse_constant=_no_number
                )
        except RecursionError as error:
            found = f"nesting deeper than {self._limits.depth}"
            raise Refused(found, "a record, which nests eight deep", "Fetch it again from who made it.") from error
        except json.JSONDecodeError as error:
            where = f"{error.msg}, column {error.colno}" if line else f"{error.msg}, line {error.lineno}"
            cure = "Check it for a missing comma or bracket there or just before."
            raise Refused(f"no JSON ({where})", "JSON", cure, row=line or error.lineno, column=0) from error

    def _whole(self, digits: str) -> int:
        if len(digits) > self._limits.digits:
            raise Refused(f"a number of {len(digits):,} digits", "whole numbers below 2^53", "Check the number.")
        return int(digits)

    def _object(self, pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        made = dict(pairs)
        if len(made) != len(pairs):
            keys = [key for key, _ in pairs]
            made[_TWICE] = next(key for key in keys if keys.count(key) > 1)
            self.twice = True
        return made


def _twice_in(node: Any) -> str:
    """A key that is twice in an object somewhere inside, found by the mark left there."""
    waiting = [node]
    while waiting:
        inner = waiting.pop()
        if isinstance(inner, dict):
            if _TWICE in inner:
                return str(inner[_TWICE])
            waiting.extend(inner.values())
        elif isinstance(inner, list):
            waiting.extend(inner)
    return ""


def _no_number(name: str) -> NoReturn:
    raise Refused(name, "a number", "Leave the fact out where nobody knows it.")


@contextmanager
def _shallow(depth: int) -> Iterator[None]:
    """The parser's own limit on nesting, for as long as it runs."""
    before, frames = sys.getrecursionlimit(), _frames()
    sys.setrecursionlimit(frames + depth + 20)
    try:
        yield
    finally:
        sys.setrecursionlimit(before)


def _frames() -> int:
    """How many calls deep this is."""
    frame, count = sys._getframe(), 0
    while frame.f_back is not None:
        frame, count = frame.f_back, count + 1
    return count


def _compact(node: Any) -> bytes:
    try:
        return json.dumps(node, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
    except UnicodeEncodeError:  # half a surrogate pair: said later, with its path
        return json.dumps(node, sort_keys=True, separators=(",", ":")).encode()


def _kind(node: Any) -> str:
    names = {list: "a list", str: "a text", bool: "true or false", int: "a number", float: "a number"}
    return names.get(type(node), "null")
