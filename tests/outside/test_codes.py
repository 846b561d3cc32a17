"""ISO/IEC 7064 MOD 37,36 against an independent implementation and a published identifier."""

from hypothesis import given
from hypothesis import strategies as st
from stdnum import grid
from stdnum.iso7064 import mod_37_36

from catalog.domain.codes import check_character

_ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@given(st.text(_ALPHANUMERIC, min_size=1, max_size=40))
def test_equal_to_python_stdnum(text: str) -> None:
    assert check_character(text) == mod_37_36.calc_check_digit(text)


def test_the_sample_of_a_standard_that_uses_it() -> None:
    """The Global Release Identifier's own example, A1-2425G-ABC1234002-M, as python-stdnum documents it."""
    assert grid.is_valid("A12425GABC1234002M")
    assert check_character("A12425GABC1234002") == "M"
