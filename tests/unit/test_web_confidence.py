"""The steward's page of confidence, and the form of outcomes, as views."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest

from catalog.errors import BadInput
from catalog.resolve.calibration.checking import Standing
from catalog.resolve.calibration.keys import Key
from catalog.resolve.calibration.record import EXPERT, SIMULATED, Check
from catalog.resolve.calibration.shipped import simulated_fit
from catalog.resolve.calibration.words import word_rates
from catalog.resolve.parameters import expert
from catalog.services.calibration_kept import Known
from catalog.services.fitting_outcomes import CalibrationView
from catalog.services.outcomes import Collected
from catalog.services.views import EditionView
from catalog.web.confidence import SIDE, confidence_view
from catalog.web.outcomes import posted_outcome

EDITION = EditionView(3, "ab" * 32, datetime(2026, 3, 2, tzinfo=UTC), "A. Steward", "", 9)
NOW = Key("r" * 64, "p" * 64, "")
FIRSTS = tuple((p, right) for p, right in [(0.2, False)] * 8 + [(0.2, True)] * 2 + [(0.95, False)] * 20)


def view(**changed: Any) -> CalibrationView:
    fit = simulated_fit()
    check = Check(
        3, "ab" * 32, replace(NOW, labels="l"), SIMULATED, fit.temperature, fit.bias, 30, 2.0, 0.1, 1.9, 0.1, 0.2,
        True, word_rates(FIRSTS), FIRSTS, "2026-11-25",
    )  # fmt: skip
    known = Known(Standing(SIMULATED, fit), (fit,), (check,), expert())
    made = CalibrationView(EDITION, known, NOW, Collected(40, 3, 2, 41, 3))
    return replace(made, **changed)


@pytest.fixture(autouse=True)
def this_program(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("catalog.services.calibration_kept.key_of", lambda labels: NOW)


def test_a_word_too_sure_is_marked_and_one_never_shown_says_so() -> None:
    rows = {row.word: row for row in confidence_view(view()).words}
    assert (rows["nearly sure"].verdict, rows["nearly sure"].wrong) == ("less often than said", True)
    assert rows["nearly sure"].share == "0 % (0 to 17 %)"
    assert (rows["possible"].verdict, rows["possible"].wrong) == ("fits", False)
    assert (rows["likely"].verdict, rows["likely"].share, rows["likely"].wrong) == ("never shown", "", False)
    assert (rows["nearly sure"].used, rows["unlikely"].used) == ("over 95 %", "7.5 to 15 %")


def test_the_drawing_and_its_table_say_the_same() -> None:
    shown = confidence_view(view())
    assert shown.picture is not None
    points = [tuple(map(float, point.split(","))) for point in shown.picture.line.split()]
    assert [x for x, _ in points] == [0.2 * SIDE, 0.95 * SIDE]
    assert all(0 <= value <= SIDE for point in points for value in point)
    # 2 of 10, then 0 of 20: pooled, 2 of 30 over both.
    assert [(step.given, step.shown, step.right, step.verdict) for step in shown.steps] == [
        ("20 to 95 %", 30, 2, "less often than said")
    ]
    assert shown.picture.summary.startswith("0 of 30 first answers")


def test_what_it_rests_on_and_what_is_missing() -> None:
    shown = confidence_view(view())
    assert dict(shown.rests)["state"] == "simulated"
    assert "fitted with" in dict(shown.rests)["key of the reader"]
    assert dict(shown.checked)["carried on"] == "yes"
    assert dict(shown.outcomes)["a fit to them needs"] == "59 more of 100"
    away = confidence_view(view(outcomes=None))
    assert away.outcomes == (("outcomes", "the database that holds them is away"),)


def test_an_edition_not_checked_yet_shows_no_rate() -> None:
    bare = Known(Standing(EXPERT, None), (), (), expert())
    shown = confidence_view(view(known=bare))
    assert (shown.picture, shown.steps, shown.words, shown.checked) == (None, (), (), ())
    assert dict(shown.rests)["state"] == "expert"


FORM = {
    "id": "abc",
    "edition": "3",
    "cues": '[{"attribute": "body", "values": ["pickup"]}]',
    "outcome": "not_listed:vin:",
}


def test_a_button_pressed_twice_is_one_outcome_and_two_buttons_are_two() -> None:
    first, again = posted_outcome(FORM), posted_outcome(FORM)
    assert first == again
    assert (first.outcome, first.proof, first.code, first.edition) == ("not_listed", "vin", "", 3)
    assert posted_outcome({**FORM, "outcome": "confirmed:badge:QPW-TF3"}).id != first.id
    assert posted_outcome({**FORM, "id": "abd"}).id != first.id


@pytest.mark.parametrize(
    "wrong",
    [{"outcome": ""}, {"outcome": "a:b"}, {"outcome": "maybe:badge:"}, {"id": ""}, {"cues": "["}, {"edition": "x"}],
)
def test_a_form_that_says_nothing_is_refused(wrong: dict[str, str]) -> None:
    with pytest.raises(BadInput):
        posted_outcome({**FORM, **wrong})
