"""The portable tokeniser and what a search box's text is read as."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.search.queries import MOST_TERMS, parse
from catalog.search.tokens import LONGEST_TERM, tokenise


def terms(text: str) -> list[str]:
    return [token.text for token in tokenise(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The driver's 12.5V cells", ["the", "driver", "12.5", "v", "cells"]),
        ("12V and 12 V", ["12", "v", "and", "12", "v"]),
        ("don’t cut", ["dont", "cut"]),
        ("the drivers' side", ["the", "drivers", "side"]),
        ("Rückwärts, façade", ["ruckwarts", "facade"]),
        ("Ru\u0308ck", ["ruck"]),
        ("left/right-hand", ["left", "right", "hand"]),
        ("4x4 MH2 CCS2", ["4x4", "mh2", "ccs2"]),
        ("Off. On", ["off", "on"]),
        ("🚒cut→loop•«here»", ["cut", "loop", "here"]),
        ("40°C", ["40", "c"]),
        ("кабель", ["кабель"]),
        ("!? ... ' \" ''", []),
        ("", []),
    ],
)
def test_terms(text: str, expected: list[str]) -> None:
    assert terms(text) == expected


def test_spans_are_code_points_of_the_text_as_given() -> None:
    text = "🚒 Straße: the driver’s 400V"
    assert [text[token.start : token.end] for token in tokenise(text)] == ["Straße", "the", "driver", "400", "V"]


@given(st.text(max_size=300))
def test_any_text_gives_ordered_spans_inside_it(text: str) -> None:
    tokens = tokenise(text)
    for token in tokens:
        assert 0 <= token.start < token.end <= len(text)
        assert 0 < len(token.text) <= LONGEST_TERM
    assert [token.start for token in tokens] == sorted(token.start for token in tokens)


@given(st.text(alphabet=st.characters(max_codepoint=127), max_size=200))
def test_ascii_shortcut_reads_as_the_table_does(text: str) -> None:
    # A letter beyond ASCII, apart, makes the whole text take the slow way.
    assert tokenise(text + " é")[:-1] == tokenise(text)


@given(st.text(max_size=100))
def test_reading_terms_again_changes_nothing(text: str) -> None:
    once = [term for term in terms(text) if len(term) < LONGEST_TERM]
    assert terms(" ".join(once)) == once


def test_query_words_are_counted_once_in_order() -> None:
    assert parse("Cut the CUT loop").terms == ("cut", "the", "loop")


@pytest.mark.parametrize("text", ['never "cut loop"', "never “cut loop”", "never «cut loop»", "never „cut loop“"])
def test_quotation_marks_keep_words_together(text: str) -> None:
    query = parse(text)
    assert query.phrases == (("cut", "loop"),)
    assert query.unfinished == ""


def test_an_open_quotation_is_still_being_typed() -> None:
    query = parse('"cut lo')
    assert query.phrases == ()
    assert query.unfinished == "lo"


def test_an_empty_quotation_asks_nothing() -> None:
    assert parse('"" " - "').phrases == ()


@given(st.text(max_size=400))
def test_any_text_is_a_query(text: str) -> None:
    query = parse(text)
    assert len(query.terms) <= MOST_TERMS
    assert all(query.phrases)
    assert query.unfinished in ("", *query.terms)
