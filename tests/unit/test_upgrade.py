"""Formats: read forward one step at a time, never from the future, never in place."""

from copy import deepcopy
from typing import Any

import pytest

from catalog.domain.record import FORMAT
from catalog.domain.upgrade import UPGRADERS, TooNew, upgrade
from catalog.errors import BadInput
from tests.sample import sample

Document = dict[str, Any]


def _say_height(document: Document) -> Document:
    """An invented format 2: "hight" becomes "height"."""
    return {("height" if key == "hight" else key): value for key, value in document.items()}


def _metres(document: Document) -> Document:
    """An invented format 3: heights in millimetres."""
    return {**document, "height": document["height"] * 1000}


INVENTED = {1: _say_height, 2: _metres}


def test_a_current_document_stays_the_very_same() -> None:
    document = sample()
    assert upgrade(document) is document


def test_steps_run_in_order_and_leave_the_stored_document_alone() -> None:
    stored = {"format": 1, "hight": 2}
    before = deepcopy(stored)
    assert upgrade(stored, INVENTED, current=3) == {"format": 3, "height": 2000}
    assert upgrade({"format": 2, "height": 2}, INVENTED, current=3) == {"format": 3, "height": 2000}
    assert stored == before


def test_upgrading_twice_is_upgrading_once() -> None:
    once = upgrade({"format": 1, "hight": 2}, INVENTED, current=3)
    assert upgrade(once, INVENTED, current=3) is once


def test_a_newer_format_is_refused_with_cause_and_cure() -> None:
    with pytest.raises(TooNew, match="format 4 is newer than 3") as caught:
        upgrade({"format": 4}, INVENTED, current=3)
    assert isinstance(caught.value, BadInput)
    assert caught.value.cure.startswith("Update the program")


def test_a_missing_step_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        upgrade({"format": 1}, {2: _metres}, current=3)


def test_every_earlier_format_has_its_step() -> None:
    assert set(UPGRADERS) == set(range(1, FORMAT))
