"""Words, frequencies and the ten boxes."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.resolve.chance import boxes, frequency, word


@pytest.mark.parametrize(
    ("probability", "expected"),
    [
        (0.9999, ("nearly sure", "over 19 in 20")),
        (0.94, ("very likely", "about 9 in 10")),
        (0.71, ("likely", "about 7 in 10")),
        (0.5, ("about even", "about 5 in 10")),
        (0.45, ("about even", "about 5 in 10")),
        (0.24, ("possible", "about 2 in 10")),
        (0.1, ("unlikely", "about 1 in 10")),
        (0.05, ("remote", "about 1 in 20")),
        (0.001, ("remote", "fewer than 1 in 20")),
    ],
)
def test_words_and_frequencies(probability: float, expected: tuple[str, str]) -> None:
    assert (word(probability), frequency(probability)) == expected


@given(st.floats(0, 1), st.floats(0, 1))
def test_one_frequency_has_one_word(first: float, second: float) -> None:
    if frequency(first) == frequency(second) and frequency(first) != "fewer than 1 in 20":
        assert word(first) == word(second)


@given(st.floats(0, 1))
def test_nothing_is_ever_ten_in_ten(probability: float) -> None:
    assert "10 in 10" not in frequency(probability)
    assert "%" not in frequency(probability)


@given(st.lists(st.floats(0, 1), max_size=14))
def test_rows_share_one_scale_and_never_close_the_tenth_box(weights: list[float]) -> None:
    total = sum(weights) or 1.0
    rows = boxes([weight / total for weight in weights])
    edge = 0
    for row in rows:
        assert row.start == edge
        assert row.length >= 0
        edge = row.start + row.length
    assert edge <= 19


@given(st.lists(st.floats(0, 1), min_size=1, max_size=14))
def test_a_larger_probability_is_never_drawn_shorter(weights: list[float]) -> None:
    total = sum(weights) or 1.0
    shares = [weight / total for weight in weights]
    drawn = sorted(zip(shares, (row.length for row in boxes(shares)), strict=True))
    assert all(before <= after or low == high for (low, before), (high, after) in itertools.pairwise(drawn))


@pytest.mark.parametrize(
    ("shares", "halves"),
    [
        # Rows are as long as their words: seven, one, a half, one box; 0.03 is left over for the rest.
        ([0.71, 0.11, 0.05, 0.1, 0.03], [14, 2, 1, 2, 0]),
        # Their words add up to eleven: the three rounded up each give a half away.
        ([0.26, 0.25, 0.25, 0.24], [5, 5, 5, 4]),
        # The tenth box stays open however sure.
        ([0.99, 0.01], [19, 0]),
        ([0.5, 0.5], [10, 9]),
    ],
)
def test_rows_are_as_long_as_their_words(shares: list[float], halves: list[int]) -> None:
    assert [row.length for row in boxes(shares)] == halves


def test_a_row_that_is_kept_never_loses_its_last_half() -> None:
    shares = [0.46, 0.46, 0.026, 0.054]
    assert [row.length for row in boxes(shares)][2] == 0
    assert [row.length for row in boxes(shares, kept=2)][2] == 1
    assert sum(row.length for row in boxes(shares, kept=2)) == 19
