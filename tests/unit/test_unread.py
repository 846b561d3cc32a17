"""Which unread words may be counted, and that one description counts once."""

import pytest

from catalog.resolve.lexicon import Lexicon
from catalog.resolve.reading.reader import read
from catalog.resolve.reading.unread import countable, trap_words
from catalog.services.unread import Tally


def words(text: str) -> set[str]:
    return set(countable(text, read(text, Lexicon(), "left")))


@pytest.mark.parametrize(
    ("text", "counted"),
    [
        ("white van, Zörble on the side", {"zorble"}),
        ("zorble zorble ZORBLE", {"zorble"}),
        # Numbers, anything with a digit, single letters.
        ("zorble 4711 zb12 q", {"zorble"}),
        # What is masked: a number to ring, a plate, a name, an address.
        ("my name is Dave Wetherby, 07700 900123, AB12 CDE, zorble", {"zorble"}),
        ("at 14 Greenly Street, zorble", {"zorble"}),
    ],
)
def test_only_words_for_things_are_counted(text: str, counted: set[str]) -> None:
    assert words(text) == counted


def test_words_of_traps_are_never_counted() -> None:
    assert {"right", "thing"} <= trap_words()
    assert not words("he did the right thing and left the scene") & trap_words()


def test_the_same_text_counts_once_however_often_it_is_said_to_be_finished() -> None:
    tally = Tally()
    for text in ("a zorble van", "a zorble van", "a  zorble\nvan"):
        tally.note(text, frozenset({"zorble"}))
    assert tally.take() == {"zorble": 1}
    tally.note("a zorble van", frozenset({"zorble"}))
    assert tally.take() == {}
    tally.note("a blue zorble van", frozenset({"zorble"}))
    assert tally.take() == {"zorble": 1}


def test_one_line_counts_each_word_once_while_it_grows() -> None:
    tally = Tally()
    tally.note("zorble", frozenset({"zorble"}), "line-1")
    tally.note("zorble prang", frozenset({"zorble", "prang"}), "line-1")
    tally.note("zorble prang again", frozenset({"zorble", "prang"}), "line-1")
    assert tally.take() == {"zorble": 1, "prang": 1}
    tally.note("another zorble", frozenset({"zorble"}), "line-2")
    assert tally.take() == {"zorble": 1}


def test_a_tally_holds_no_text_and_has_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("catalog.services.unread._REMEMBERED", 3)
    monkeypatch.setattr("catalog.services.unread._MOST_WAITING", 2)
    tally = Tally()
    for number, word in enumerate(("one", "two", "three", "four", "five")):
        tally.note(f"a secret {word}", frozenset({word}), f"line-{number}")
    assert "secret" not in repr(vars(tally))
    assert len(tally._texts) == len(tally._lines) == 3
    assert tally.waiting == {"one": 1, "two": 1}


def test_what_could_not_be_written_waits_again() -> None:
    tally = Tally()
    tally.note("a", frozenset({"zorble"}))
    taken = tally.take()
    tally.note("b", frozenset({"zorble"}))
    tally.put_back(taken)
    assert tally.take() == {"zorble": 2}
