"""Canonical JSON: one byte string per document, so that hashes can be compared.

Documents hold objects with ASCII keys, arrays, NFC strings, booleans and integers below 2^53;
no floats, no null, no duplicate keys, no lone surrogates. On that subset RFC 8785 (JSON
Canonicalization Scheme) equals compact `json.dumps` with sorted keys; tests/outside proves it.
"""

import hashlib
import json
import unicodedata
from collections.abc import Iterable, Iterator
from typing import Any

LIMIT = 2**53
DEEPEST = 40  # records need eight; deeper is no record and would exhaust the stack

Path = tuple[str | int, ...]


class NotCanonical(ValueError):
    """The document holds something canonical JSON refuses; path says where."""

    def __init__(self, path: str, why: str) -> None:
        super().__init__(f"{path or 'document'}: {why}")
        self.path = path


def canonical_bytes(document: object) -> bytes:
    """The canonical UTF-8 bytes of a document. Raises NotCanonical."""
    _check(document)
    return unchecked_bytes(document)


def unchecked_bytes(document: object) -> bytes:
    """The same of a document in which nothing is refused. Raises ValueError, TypeError, RecursionError for what has no
    JSON or no UTF-8."""
    return json.dumps(document, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()


def content_hash(document: object) -> str:
    """SHA-256 of the canonical bytes, lower-case hex."""
    return hashlib.sha256(canonical_bytes(document)).hexdigest()


def parse_canonical(text: str | bytes) -> Any:
    """Parse JSON, refusing what canonical documents may not hold. Raises NotCanonical."""
    try:
        document = json.loads(text, object_pairs_hook=_no_duplicates, parse_float=_no_float)
    except NotCanonical:
        raise
    except (ValueError, RecursionError) as error:  # also bytes that are not UTF-8, endless digits or depth
        raise NotCanonical("", f"not JSON: {error}") from error
    _check(document)
    return document


def _no_duplicates(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise NotCanonical(twice, "the key is there twice")
    return made


def _no_float(text: str) -> Any:
    raise NotCanonical("", f"{text} is not a whole number; use the declared unit (mm, s, Wh)")


def refusals(document: object) -> Iterator[tuple[Path, str]]:
    """(where, why) of everything canonical JSON refuses in a document."""
    if not _is_canonical(document):
        yield from _refusals(document, ())


def _is_canonical(document: object) -> bool:
    """Whether a document is an object or a list in which nothing is refused, level by level: nearly every one is.

    False says nothing. Ten thousand documents of some 1,200 values each are hashed at once, and the walk that says
    where something is takes three times as long.
    """
    level = [document]
    for _ in range(DEEPEST):
        below: list[object] = []
        for node in level:
            if type(node) is dict:
                if not all(type(key) is str and key.isascii() for key in node):
                    return False
                values: Iterable[object] = node.values()
            elif type(node) is list:
                values = node
            else:
                return False
            for value in values:
                kind = type(value)
                if kind is str:
                    if not value.isascii() and any(_string_refusals(value)):  # type: ignore[attr-defined,arg-type]
                        return False
                elif kind is dict or kind is list:
                    below.append(value)
                elif kind is not bool and (kind is not int or not -LIMIT < value < LIMIT):  # type: ignore[operator]
                    return False
        if not below:
            return True
        level = below
    return False


def _refusals(node: object, path: Path) -> Iterator[tuple[Path, str]]:
    match node:
        case bool():
            return
        case str():
            yield from ((path, why) for why in _string_refusals(node))
        case int():
            if abs(node) >= LIMIT:
                yield path, "beyond 2^53"
        case dict() | list() if len(path) >= DEEPEST:
            yield path, f"nested deeper than {DEEPEST}"
        case dict():
            for key, value in node.items():
                if not isinstance(key, str) or not key.isascii():
                    yield path, f"key {key!r} is not ASCII text"
                if not _is_plain(value):
                    yield from _refusals(value, (*path, str(key)))
        case list():
            for position, value in enumerate(node):
                if not _is_plain(value):
                    yield from _refusals(value, (*path, position))
        case None:
            yield path, "null is refused; leave the key out to say not stated"
        case float():
            yield path, f"{node} is not a whole number; use the declared unit (mm, s, Wh)"
        case _:
            yield path, f"{type(node).__name__} is refused"


def _is_plain(value: object) -> bool:
    """Nearly all that is in a document: an edition of ten thousand records lists sixty thousand such texts."""
    return type(value) is str and value.isascii()


def _string_refusals(text: str) -> Iterator[str]:
    if text.isascii():
        return  # nearly all text, and ten thousand documents are hashed at once
    if any(0xD800 <= ord(char) <= 0xDFFF for char in text):
        yield "lone surrogate"
    elif not unicodedata.is_normalized("NFC", text):
        yield "text is not in Unicode NFC"


def _check(document: object) -> None:
    for path, why in refusals(document):
        raise NotCanonical("".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in path).lstrip("."), why)
