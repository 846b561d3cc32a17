"""Canonical JSON against RFC 8785 and PyPI's rfc8785.

The samples are those of RFC 8785 sections 3.2.2 to 3.2.4 (rfc-editor.org), also printed in its
author's repository. Documents hold no null, no fractions and no keys beyond ASCII, so of the
RFC's sample only the string can be written; the rest must be refused.
"""

import pytest
import rfc8785
from hypothesis import given, settings

from catalog.domain.canonical import NotCanonical, canonical_bytes, parse_canonical
from tests.strategies import Document, documents
from tests.unit.test_canonical import TREES

# Section 3.2.2, the "string" member as the RFC writes it.
RFC_STRING = r"""{"string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/"}"""
# Section 3.2.4, the octets of that member; braces around it are ours.
RFC_OCTETS = bytes.fromhex(
    "7b 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30 30 66 5c 6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d"
)
RFC_NUMBERS = ["333333333.33333329", "1E30", "4.50", "2e-3", "0.000000000000000000000000001"]
# Section 3.2.3: names to sort by UTF-16 code units.
RFC_NAMES = [r"\u20ac", r"\ufb33", r"\ud83d\ude00", r"\u0080", r"\u00f6"]


def test_the_rfcs_string_gives_the_rfcs_octets() -> None:
    assert canonical_bytes(parse_canonical(RFC_STRING)) == RFC_OCTETS


@pytest.mark.parametrize("number", RFC_NUMBERS)
def test_the_rfcs_numbers_are_refused(number: str) -> None:
    with pytest.raises(NotCanonical, match="whole number"):
        parse_canonical(f'{{"numbers": [{number}]}}')


def test_the_rfcs_null_is_refused() -> None:
    with pytest.raises(NotCanonical, match="null"):
        parse_canonical('{"literals": [null, true, false]}')


@pytest.mark.parametrize("name", RFC_NAMES)
def test_the_rfcs_names_beyond_ascii_are_refused(name: str) -> None:
    with pytest.raises(NotCanonical, match="ASCII"):
        parse_canonical(f'{{"{name}": "x"}}')


def test_the_rfcs_ascii_names_sort_as_it_says() -> None:
    """Of section 3.2.3's expected order: carriage return before "1"."""
    given_ = r'{"1": "One", "\r": "Carriage Return"}'
    assert canonical_bytes(parse_canonical(given_)) == rb'{"\r":"Carriage Return","1":"One"}'


def test_duplicate_names_are_refused() -> None:
    """Section 3.1 takes RFC 7493 (I-JSON) for granted, which forbids them in section 2.3."""
    with pytest.raises(NotCanonical, match="twice"):
        parse_canonical('{"a": 1, "b": 2, "a": 1}')


@settings(max_examples=150)
@given(TREES)
def test_equal_to_an_independent_implementation_on_any_tree(document: object) -> None:
    assert canonical_bytes(document) == rfc8785.dumps(document)  # type: ignore[arg-type]


@settings(max_examples=20)
@given(documents())
def test_equal_to_an_independent_implementation_on_records(document: Document) -> None:
    assert canonical_bytes(document) == rfc8785.dumps(document)
