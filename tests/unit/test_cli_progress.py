"""Progress: silent for a second, then a count on standard error, never in the output."""

import itertools
import time

import pytest

from catalog.cli import progress


@pytest.fixture
def seconds_go_by(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every look at the clock finds a fifth of a second more."""
    clock = itertools.count(0, 0.2)
    monkeypatch.setattr(time, "monotonic", lambda: next(clock))


@pytest.mark.usefixtures("seconds_go_by")
def test_a_long_task_ends_with_its_count(capsys: pytest.CaptureFixture[str]) -> None:
    assert list(progress.told(range(1500), "records written")) == list(range(1500))
    out, err = capsys.readouterr()
    assert out == ""
    assert err == "1,500 records written\n"


@pytest.mark.usefixtures("seconds_go_by")
def test_a_short_task_says_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert list(progress.told([1, 2, 3], "records written")) == [1, 2, 3]
    assert capsys.readouterr() == ("", "")
