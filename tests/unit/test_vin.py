"""VINs: what can be told of one, and what may be kept."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.domain import vin
from tests.strategies import vin_patterns

VINS = st.text(vin.ALPHABET, min_size=17, max_size=17)


@given(VINS)
def test_a_vin_with_its_check_digit_agrees(text: str) -> None:
    right = text[:8] + vin.check_digit(text) + text[9:]
    assert vin.check_digit_agrees(right) is True
    wrong = text[:8] + ("0" if right[8] != "0" else "1") + text[9:]
    assert vin.check_digit_agrees(wrong) is False


@given(VINS, st.integers(0, 16), st.sampled_from(vin.ALPHABET))
def test_a_wrong_character_is_found_unless_it_counts_the_same(text: str, at: int, char: str) -> None:
    """Detected exactly when the two characters transliterate differently (49 CFR 565.15)."""
    right = text[:8] + vin.check_digit(text) + text[9:]
    changed = right[:at] + char + right[at + 1 :]
    if at != 8:
        alike = _value(char) == _value(right[at])
        assert vin.check_digit_agrees(changed) is alike


@given(VINS, st.integers(0, 15))
def test_an_adjacent_swap_is_found_unless_both_count_the_same(text: str, at: int) -> None:
    right = text[:8] + vin.check_digit(text) + text[9:]
    swapped = right[:at] + right[at + 1] + right[at] + right[at + 2 :]
    if 8 not in (at, at + 1):
        assert vin.check_digit_agrees(swapped) is (_value(right[at]) == _value(right[at + 1]))


@pytest.mark.parametrize(
    "text", ["", "1G4AH59H5G118341", "FA1KL2V4?RA000123", "FA1KL2V4IRA000123", "fa1kl2v42ra000123"]
)
def test_what_is_no_whole_vin_has_no_verdict(text: str) -> None:
    assert vin.check_digit_agrees(text) is None


@pytest.mark.parametrize("text", ["123", "I" * 17, "?" * 17])
def test_a_check_digit_needs_a_whole_vin(text: str) -> None:
    with pytest.raises(ValueError, match=r"a VIN|never in a VIN"):
        vin.check_digit(text)


def test_illegal_characters_are_named_with_their_position() -> None:
    assert vin.illegal("FA1KI2V4?RAOO0123") == ((5, "I"), (12, "O"), (13, "O"))
    assert vin.illegal("FA1KL2V4?RA??????") == ()


def test_cleaning_takes_out_what_people_write_between() -> None:
    assert vin.clean(" fa1-kl2v4 2ra.000123") == "FA1KL2V42RA000123"


@pytest.mark.parametrize(
    ("seventh", "preferred"),
    [("V", 2024), ("4", 1994), ("?", None), ("I", None)],
)
def test_the_seventh_character_prefers_a_cycle(seventh: str, preferred: int | None) -> None:
    years = vin.model_years(f"FA1KL2{seventh}42RA")
    assert years == vin.ModelYears((1994, 2024), preferred)


def test_no_year_is_offered_beyond_the_latest() -> None:
    assert vin.model_years("FA1KL2V429A", latest=2027) == vin.ModelYears((2009,), None)
    assert vin.model_years("FA1KL2V42AA", latest=2027) == vin.ModelYears((1980, 2010), 2010)


@pytest.mark.parametrize("text", ["", "FA1KL2V42", "FA1KL2V42U", "FA1KL2V42Z", "FA1KL2V420", "FA1KL2V42?"])
def test_without_a_year_code_there_is_no_year(text: str) -> None:
    assert vin.model_years(text) == vin.ModelYears((), None)


@given(vin_patterns(), VINS)
def test_a_pattern_fits_what_is_made_from_it(pattern: str, filling: str) -> None:
    made = "".join(other if char == "?" else char for char, other in zip(pattern, filling, strict=True))
    assert vin.matches(pattern, made)
    for length in range(3, 18):
        assert vin.matches(pattern, made[:length])
    fixed = next(at for at, char in enumerate(pattern) if char != "?")
    other = next(char for char in vin.ALPHABET if char != made[fixed])
    assert not vin.matches(pattern, made[:fixed] + other + made[fixed + 1 :])


@pytest.mark.parametrize("part", ["", "F", "FA", "X" * 18])
def test_too_little_or_too_much_fits_nothing(part: str) -> None:
    assert not vin.matches("?" * 17, part)


@given(VINS)
def test_the_part_that_may_be_kept_tells_nothing_of_the_serial(text: str) -> None:
    kept = vin.vehicle_part(text)
    assert len(kept) == 11
    assert kept[8] == "?"
    assert kept[:8] + kept[9:] == text[:8] + text[9:11]
    same = {vin.vehicle_part(text[:8] + digit + text[9:11] + "000001") for digit in vin.CHECK_CHARACTERS}
    assert same == {kept}
    assert vin.vehicle_part(kept) == kept
    assert vin.matches(kept + "?" * 6, text)


def _value(char: str) -> int:
    """Transliteration written out again: letters count along the alphabet in rows of nine, from 49 CFR 565.15."""
    if char.isdigit():
        return int(char)
    rows = ("ABCDEFGH", "JKLMN.P.R", ".STUVWXYZ")
    return next(row.index(char) + 1 for row in rows if char in row)
