"""Canonical JSON: one spelling per document, everything else refused with its place."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.domain.canonical import (
    DEEPEST,
    LIMIT,
    NotCanonical,
    canonical_bytes,
    content_hash,
    parse_canonical,
    refusals,
)
from catalog.domain.chain import ZERO, EditionEntry, Entry

SCALARS = st.booleans() | st.integers(-LIMIT + 1, LIMIT - 1) | st.text('abcé🚒\n"\\/\x00', max_size=6)
TREES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text("abAB_9", max_size=3), inner, max_size=4),
    max_leaves=20,
)


@given(TREES)
def test_parsing_takes_back_what_was_written(document: Any) -> None:
    assert parse_canonical(canonical_bytes(document)) == document
    assert canonical_bytes(parse_canonical(canonical_bytes(document))) == canonical_bytes(document)


@settings(max_examples=50)
@given(st.dictionaries(st.text("abAB_9", max_size=3), TREES, max_size=5))
def test_the_order_of_keys_does_not_matter(document: dict[str, Any]) -> None:
    backwards = dict(reversed(document.items()))
    assert content_hash(backwards) == content_hash(document)


@pytest.mark.parametrize(
    ("document", "where", "why"),
    [
        (None, "document", "null"),
        ({"a": [1, {"b": None}]}, "a[1].b", "null"),
        ({"a": 1.5}, "a", "1.5 is not a whole number"),
        ({"a": float("nan")}, "a", "not a whole number"),
        ({"a": 1.0}, "a", "not a whole number"),
        ({"a": LIMIT}, "a", "beyond 2^53"),
        ({"a": -LIMIT}, "a", "beyond 2^53"),
        ({"ä": 1}, "document", "not ASCII"),
        ({1: 1}, "document", "not ASCII"),
        ({"a": "e\u0301"}, "a", "NFC"),
        ({"a": "\ud800"}, "a", "lone surrogate"),
        ({"a": "x\udfff"}, "a", "lone surrogate"),
        ({"a": b"x"}, "a", "bytes is refused"),
        ({"a": (1, 2)}, "a", "tuple is refused"),
    ],
)
def test_what_is_refused_names_its_place(document: Any, where: str, why: str) -> None:
    with pytest.raises(NotCanonical, match=why.replace("^", r"\^")) as caught:
        canonical_bytes(document)
    assert str(caught.value).startswith(where)


def test_every_refusal_is_collected() -> None:
    found = list(refusals({"a": None, "b": [1.5, "e\u0301"], "c": {"d": LIMIT}}))
    assert [path for path, _ in found] == [("a",), ("b", 0), ("b", 1), ("c", "d")]


@pytest.mark.parametrize(
    "text",
    ["", "{", '{"a":1,"a":2}', '{"a":{"b":1,"b":1}}', "[1.0]", "[1e3]", "[NaN]", "[Infinity]", "[-Infinity]", "null",
     '["\\ud800"]', "[" * 100_000, "[" + "9" * 5000 + "]", f"[{LIMIT}]", '{"a" 1}', "\ufeff{}"],
)  # fmt: skip
def test_text_that_is_not_canonical_is_refused(text: str) -> None:
    with pytest.raises(NotCanonical):
        parse_canonical(text)


@pytest.mark.parametrize("raw", [b"\xff\xfe", b'{"a":"\xe4"}', b'["\xed\xa0\x80"]'])
def test_bytes_that_are_not_utf_8_are_refused(raw: bytes) -> None:
    with pytest.raises(NotCanonical):
        parse_canonical(raw)


def test_depth_has_a_limit_that_records_never_reach() -> None:
    fits: Any = 1
    for _ in range(DEEPEST):
        fits = [fits]
    assert canonical_bytes(fits)
    with pytest.raises(NotCanonical, match="nested deeper"):
        canonical_bytes([fits])


def test_hashes_are_of_the_canonical_bytes() -> None:
    # printf '{}' | sha256sum (GNU coreutils 9.1).
    assert content_hash({}) == "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"


def test_a_chain_entry_covers_each_of_its_parts() -> None:
    entry = Entry("QK7-M2T", 1, ZERO, ZERO, 1, "ab" * 32, "a", 1, "first", "")
    changed = [
        Entry("QK7-M2V", 1, ZERO, ZERO, 1, "ab" * 32, "a", 1, "first", ""),
        Entry("QK7-M2T", 2, ZERO, ZERO, 1, "ab" * 32, "a", 1, "first", ""),
        Entry("QK7-M2T", 1, "1" * 64, ZERO, 1, "ab" * 32, "a", 1, "first", ""),
        Entry("QK7-M2T", 1, ZERO, "1" * 64, 1, "ab" * 32, "a", 1, "first", ""),
        Entry("QK7-M2T", 1, ZERO, ZERO, 2, "ab" * 32, "a", 1, "first", ""),
        Entry("QK7-M2T", 1, ZERO, ZERO, 1, "ac" * 32, "a", 1, "first", ""),
        Entry("QK7-M2T", 1, ZERO, ZERO, 1, "ab" * 32, "b", 1, "first", ""),
        Entry("QK7-M2T", 1, ZERO, ZERO, 1, "ab" * 32, "a", 2, "first", ""),
        Entry("QK7-M2T", 1, ZERO, ZERO, 1, "ab" * 32, "a", 1, "other", ""),
        Entry("QK7-M2T", 1, ZERO, ZERO, 1, "ab" * 32, "a", 1, "first", "u1"),
    ]
    assert len({entry.hash, *(other.hash for other in changed)}) == len(changed) + 1


def test_an_editions_hash_does_not_depend_on_the_order_of_its_members() -> None:
    members = (("record", "A", "1"), ("record", "B", "2"), ("source", "A", "3"))
    one = EditionEntry(1, ZERO, 5, "A", "why", members)
    other = EditionEntry(1, ZERO, 5, "A", "why", members[::-1])
    assert one.hash == other.hash
    assert json.loads(canonical_bytes([list(member) for member in members]))
    assert one.hash != EditionEntry(1, ZERO, 5, "A", "why", members[:2]).hash
    assert one.hash != EditionEntry(1, ZERO, 5, "A", "other", members).hash
    assert one.hash != EditionEntry(1, ZERO, 5, "A", "why", members, (("record", "C", "gone"),)).hash
