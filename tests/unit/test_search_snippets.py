"""The passage that shows why a note was found."""

from hypothesis import given
from hypothesis import strategies as st

from catalog.search.port import Snippet
from catalog.search.snippets import LENGTH, LONGEST_SENTENCE, snippet

FILLER = "Chock both wheels on the far side and wait for word from the officer in charge of the scene. "


def shown(pieces: Snippet) -> str:
    return "".join(text for text, _ in pieces)


def marked(pieces: Snippet) -> list[str]:
    return [text for text, is_match in pieces if is_match]


def test_matches_are_marked_as_written() -> None:
    assert snippet("Never CUT the loop.", {"cut", "loop"}) == (
        ("Never ", False),
        ("CUT", True),
        (" the ", False),
        ("loop", True),
        (".", False),
    )


def test_a_passage_starts_with_its_sentence() -> None:
    text = FILLER * 4 + "Never, unless told so twice, cut the orange cable."
    pieces = snippet(text, {"cable"})
    assert shown(pieces).startswith("… ")
    assert "Never, unless told so twice, cut the orange cable." in shown(pieces)


def test_a_decimal_point_or_a_small_letter_ends_no_sentence() -> None:
    text = FILLER * 3 + "Leave approx. 12.5 mm of the cable."
    assert "Leave approx. 12.5 mm of the cable." in shown(snippet(text, {"cable"}))


def test_the_passage_with_most_distinct_words_wins_then_the_earliest() -> None:
    text = "Loop, loop, loop. " + FILLER * 4 + "Cut the loop here. " + FILLER * 4 + "Cut the loop there."
    assert "Cut the loop here." in shown(snippet(text, {"cut", "loop"}))


def test_without_a_match_the_beginning_is_shown() -> None:
    pieces = snippet(FILLER * 5, {"absent"})
    assert marked(pieces) == []
    assert shown(pieces).startswith("Chock both wheels")
    assert shown(pieces).endswith(" …")


def test_an_endless_sentence_is_cut_between_words_around_its_match() -> None:
    text = "word " * 300 + "beacon " + "word " * 300
    pieces = snippet(text, {"beacon"})
    assert marked(pieces) == ["beacon"]
    assert len(shown(pieces)) < LONGEST_SENTENCE
    assert set(shown(pieces).split()) == {"…", "word", "beacon"}


def test_nothing_to_show() -> None:
    assert snippet("", {"cut"}) == ()
    assert snippet(" \n ", {"cut"}) == ()


@given(st.text(alphabet="abc .!?\n'\"é🚒", max_size=900), st.sets(st.text(alphabet="abce", min_size=1, max_size=3)))
def test_what_is_shown_is_the_text_itself(text: str, terms: set[str]) -> None:
    pieces = snippet(text, terms)
    bare = shown(pieces).removeprefix("… ").removesuffix(" …")
    assert bare in text
    assert len(bare) <= max(LENGTH, LONGEST_SENTENCE)
    assert all(piece for piece, _ in pieces)
