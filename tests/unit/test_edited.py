"""What a person writes in a field's place."""

import pytest

from catalog.errors import BadInput
from catalog.services.edited import cell_of, fact_from

WAIT = "cutoff.methods[b].wait"


def test_a_value_with_its_unit_and_source() -> None:
    assert fact_from(WAIT, "2 min", "KEL-7/1:4") == {"value": 120, "src": ["KEL-7/1:4"]}
    assert fact_from(WAIT, "not stated", "") is None


def test_what_is_shown_reads_back_to_the_same() -> None:
    for stored in (
        {"value": 60, "src": ["KEL-7/1:4", "KEL-7/2:5"]},
        {"disputed": [{"value": 60, "src": ["KEL-7/1:4"]}, {"value": 90, "src": ["KEL-7/2:5"]}]},
    ):
        assert fact_from(WAIT, *cell_of(WAIT, stored)) == stored
    assert cell_of(WAIT, None) == ("NOT STATED", "")


@pytest.mark.parametrize(("text", "source"), [("-", "KEL-7/1:4"), ("soon", "KEL-7/1:4"), ("60", ""), ("60", "page 4")])
def test_what_is_not_understood_says_what_is_allowed(text: str, source: str) -> None:
    with pytest.raises(BadInput) as refused:
        fact_from(WAIT, text, source)
    assert refused.value.cure


def test_only_facts_are_edited() -> None:
    with pytest.raises(BadInput, match="no fact"):
        fact_from("identity.make", "Ondru", "")
