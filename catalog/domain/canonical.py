"""Canonical JSON: one byte string per document, so that hashes can be compared.

Documents hold objects with ASCII keys, arrays, NFC strings, booleans and integers below 2^53;
no floats, no null, no duplicate keys, no lone surrogates. On that subset RFC 8785 (JSON
Canonicalization Scheme) equals compact `json.dumps` with sorted keys; tests/outside proves it.
"""

import hashlib
import json
import unicodedata
from typing import Any

LIMIT = 2**53


class NotCanonical(ValueError):
    """The document holds something canonical JSON refuses; path says where."""

    def __init__(self, path: str, why: str) -> None:
        super().__init__(f"{path or 'document'}: {why}")
        self.path = path


def canonical_bytes(document: object) -> bytes:
    """The canonical UTF-8 bytes of a document. Raises NotCanonical."""
    _check(document, "")
    return json.dumps(document, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()


def content_hash(document: object) -> str:
    """SHA-256 of the canonical bytes, lower-case hex."""
    return hashlib.sha256(canonical_bytes(document)).hexdigest()


def parse_canonical(text: str | bytes) -> Any:
    """Parse JSON, refusing what canonical documents may not hold. Raises NotCanonical."""
    try:
        document = json.loads(text, object_pairs_hook=_no_duplicates, parse_float=_no_float)
    except (json.JSONDecodeError, UnicodeDecodeError) as error:
        raise NotCanonical("", f"not JSON: {error}") from error
    _check(document, "")
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


def _check(node: object, path: str) -> None:
    match node:
        case bool():
            return
        case str():
            _check_string(node, path)
        case int():
            if abs(node) >= LIMIT:
                raise NotCanonical(path, f"{node} is beyond 2^53")
        case dict():
            for key, value in node.items():
                if not isinstance(key, str) or not key.isascii():
                    raise NotCanonical(path, f"key {key!r} is not ASCII text")
                _check(value, f"{path}.{key}" if path else key)
        case list():
            for position, value in enumerate(node):
                _check(value, f"{path}[{position}]")
        case None:
            raise NotCanonical(path, "null is refused; leave the key out to say not stated")
        case _:
            raise NotCanonical(path, f"{type(node).__name__} is refused")


def _check_string(text: str, path: str) -> None:
    if any(0xD800 <= ord(char) <= 0xDFFF for char in text):
        raise NotCanonical(path, "lone surrogate")
    if not unicodedata.is_normalized("NFC", text):
        raise NotCanonical(path, "text is not in Unicode NFC")
