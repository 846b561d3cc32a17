"""Lists made shorter by typed words, and results kept for who asks next."""

import pytest

from catalog.services.narrowing import with_words
from catalog.services.remembered import Remembered


@pytest.mark.parametrize(
    ("typed", "text", "has"),
    [
        ("", "anything", True),
        ("  ", "", True),
        ("CUT loop", "The loop to cut", True),
        ("cut loop", "Cut here", False),
        ("straße", "STRASSE", False),
    ],
)
def test_every_word_is_there_in_any_order_and_case(typed: str, text: str, has: bool) -> None:
    assert with_words(typed)(text) is has


def test_the_last_few_are_kept_and_nothing_of_what_failed() -> None:
    kept: Remembered[int] = Remembered(2)
    made: list[int] = []

    def make(value: int) -> int:
        made.append(value)
        if value < 0:
            raise ValueError("none")
        return value

    for key in (1, 1, 2, 3, 3, 1):
        assert kept.of(key, lambda key=key: make(key)) == key  # type: ignore[misc]
    assert made == [1, 2, 3, 1]
    for _ in range(2):
        with pytest.raises(ValueError, match="none"):
            kept.of("bad", lambda: make(-1))
    assert made[-2:] == [-1, -1]
