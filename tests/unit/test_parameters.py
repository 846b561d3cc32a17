"""The parameter sets: which is shipped, and what it says of itself."""

import pytest

from catalog.resolve import parameters
from catalog.resolve.parameters import expert, shipped


def test_the_fit_belongs_to_the_expert_numbers_of_today() -> None:
    # When this fails: python -m tests.eval.search_calibration
    assert shipped().origin == "simulated"
    assert {**shipped().tables, "comment": ""} == {**expert().tables, "comment": ""}
    assert shipped().hash != expert().hash


def test_what_was_only_simulated_is_called_so() -> None:
    assert shipped().calibration.startswith("simulated: T = ")
    assert shipped().calibration.endswith("not yet checked against calls")
    assert expert().calibration.startswith("expert: ")


def test_a_fit_of_other_numbers_is_left_aside(monkeypatch: pytest.MonkeyPatch) -> None:
    read = parameters._read
    changed = {"expert": "of other numbers"}
    monkeypatch.setattr(parameters, "_read", lambda name: {**read(name), **(changed if name == "simulated" else {})})
    assert shipped.__wrapped__() is expert()
