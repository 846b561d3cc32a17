"""Calibrations: what they hold for, how they are checked, fitted and told."""

from dataclasses import replace

import numpy as np
import pytest

from catalog.resolve.calibration import keys
from catalog.resolve.calibration.checking import Of, applied, check, standing
from catalog.resolve.calibration.fitting import TEMPERATURES, fitted, standings, surprise
from catalog.resolve.calibration.isotonic import isotonic, reliability
from catalog.resolve.calibration.keys import Key, hash_of, key_of
from catalog.resolve.calibration.labels import Label, labels_hash, placed
from catalog.resolve.calibration.measure import mean_and_error, measure
from catalog.resolve.calibration.record import (
    EXPERT,
    FIELD,
    SIMULATED,
    Calibration,
    Check,
    calibration_data,
    calibration_from,
    check_data,
    check_from,
)
from catalog.resolve.calibration.shipped import simulated_fit
from catalog.resolve.calibration.words import WordRate, holds, promised, word_rates
from catalog.resolve.chance import WORDS
from catalog.resolve.field import Field
from catalog.resolve.parameters import expert
from tests.unit.resolve_cases import FLEET, cue, field

NOW = Key("reader", "parameters", "")
FIT = Calibration(replace(NOW, labels="some"), SIMULATED, 0.9, 0.4, 2000, 3.1, 0.06, (), "2026-11-25")
OUTCOMES = replace(FIT, state=FIELD, temperature=1.6, n=120)
CHECK = Check(
    3, "ab" * 32, NOW, SIMULATED, 0.9, 0.4, 300, 2.0, 0.1, 2.1, -0.1, 0.02, True,
    (WordRate("likely", 3, 2, 0.1, 0.99),), ((0.7, True), (0.4, False)), "2026-11-25",
)  # fmt: skip
LABELS = tuple(
    Label(cues, code, denied)
    for cues, code, denied in (
        ((cue("body", "pickup"),), "A00", False),
        ((cue("body", "pickup"), cue("port_place", "right|front_quarter|")), "A01", False),
        ((cue("name", "mirrin"), cue("body", "van")), "A03", False),
        ((cue("name", "zorbelak"), cue("body", "bus")), "", False),
        ((cue("body", "hatchback"),), "A02", True),
        ((cue("body", "suv"),), "A00", False),
    )
)


def test_a_fit_counts_for_the_reader_and_parameters_it_was_made_with() -> None:
    assert standing([FIT], [], NOW) == standing([FIT], [CHECK], NOW)
    found = standing([FIT], [], NOW)
    assert (found.state, found.calibration, found.passed_over) == (SIMULATED, FIT, ())
    other = standing([FIT], [], replace(NOW, parameters="others"))
    assert (other.state, other.calibration) == (EXPERT, None)
    assert other.passed_over == ("the simulated fit of 2026-11-25 is of other parameters",)


def test_another_reader_has_to_read_the_simulated_descriptions_again() -> None:
    later = replace(NOW, reader="later")
    assert standing([FIT], [CHECK], later).state == EXPERT
    assert standing([FIT], [replace(CHECK, key=later)], later).state == SIMULATED
    assert standing([FIT], [replace(CHECK, key=later, temperature=1.1)], later).state == EXPERT


def test_outcomes_count_before_simulations_until_anything_changes() -> None:
    assert standing([FIT, OUTCOMES], [], NOW).state == FIELD
    later = replace(NOW, reader="later")
    found = standing([OUTCOMES, FIT], [replace(CHECK, key=later)], later)
    assert (found.state, found.passed_over) == (
        SIMULATED,
        ("the field fit of 2026-11-25 is of another reading of descriptions",),
    )


def test_a_fit_that_failed_its_check_gives_way() -> None:
    found = standing([FIT], [replace(CHECK, carried=False)], NOW)
    assert (found.state, found.passed_over) == (EXPERT, ("the simulated fit of 2026-11-25 does not hold on edition 3",))


def test_the_numbers_of_a_fit_are_the_experts_but_for_two() -> None:
    made = applied(FIT, "so and so")
    assert (made.temperature, made.unlisted_bias, made.origin) == (0.9, 0.4, SIMULATED)
    assert made.calibration == "simulated: T = 0.9, so and so"
    assert made.tables is expert().tables


def test_calibrations_and_checks_go_to_json_and_back() -> None:
    assert calibration_from(calibration_data(OUTCOMES)) == OUTCOMES
    assert check_from(check_data(CHECK)) == CHECK
    with pytest.raises(KeyError):
        check_from({"edition": 3})


def test_the_shipped_fit_says_what_it_rests_on() -> None:
    fit = simulated_fit()
    assert fit.state == SIMULATED
    assert fit.n >= 2000
    assert [rate.word for rate in fit.words] == [word for _, word in WORDS]


def test_the_key_changes_with_the_reader_and_the_labels(monkeypatch: pytest.MonkeyPatch) -> None:
    before = key_of("x")
    assert len(before.reader) == len(before.parameters) == 64
    assert key_of("y") != before
    monkeypatch.setattr(keys, "_BESIDE", ())
    assert keys.reader_hash.__wrapped__() != before.reader
    assert hash_of([[1], [2]]) == hash_of([[2], [1]]) != hash_of([[1], [3]])
    assert labels_hash(LABELS) != labels_hash(LABELS[1:])


def test_a_worse_calibration_is_dropped_and_a_better_one_carried() -> None:
    fleet = field(*FLEET)
    labels = [LABELS[0]] * 6 + [LABELS[5]] * 14  # often wrong: sharp numbers are worse than the expert's
    of = Of(3, "ab" * 32, "2026-11-25")
    sharp = check(replace(FIT, temperature=0.3, bias=-6.0), labels, fleet, of)
    assert not sharp.carried
    assert sharp.worse > 2 * sharp.worse_se > 0
    blunt = check(replace(FIT, temperature=2.5, bias=0.0), labels, fleet, of)
    assert blunt.carried
    assert blunt.nll < blunt.nll_instead
    # What is shown is of the numbers that count: after a failed check, the expert's.
    plain = measure(labels, replace(fleet, parameters=expert()))
    assert sharp.firsts == plain.firsts != blunt.firsts
    assert sharp.words == word_rates(plain.rows)


def test_what_is_measured_is_what_the_search_answers() -> None:
    found = measure(LABELS, field(*FLEET))
    assert len(found.nll) == 6
    assert len(found.firsts) == 5  # of a denied record the right one is not known
    assert len(found.rows) == 5 * 4 + 1
    assert all(0 < p < 1 for p, _ in found.rows)
    gone = measure([Label(LABELS[0].cues, "Z99"), Label(LABELS[0].cues, "Z99", denied=True)], field(*FLEET))
    assert len(gone.nll) == 1  # a record no longer listed is a vehicle that is not; of its denial nothing is known


@pytest.mark.parametrize("bias", [-0.7, 0.0, 1.3])
@pytest.mark.parametrize("row", [0, 17, 40])
def test_the_fits_arithmetic_is_the_searchs(row: int, bias: float) -> None:
    fleet = field(*FLEET)
    numbers = replace(expert(), temperature=float(TEMPERATURES[row]), unlisted_bias=bias)
    found = surprise(standings(placed(LABELS, fleet.tables), fleet), row, bias)
    assert found == pytest.approx(measure(LABELS, replace(fleet, parameters=numbers)).nll, abs=1e-9)


def test_a_fit_finds_the_temperature_the_labels_were_drawn_with() -> None:
    fleet = field(*FLEET)
    told = replace(expert(), temperature=2.0, unlisted_bias=0.8)
    labels = drawn(replace(fleet, parameters=told), 3000)
    found = fitted(labels, fleet)
    assert found.temperature == pytest.approx(2.0, rel=0.15)
    assert found.bias == pytest.approx(0.8, abs=0.25)
    assert len(found.held_out) == 3000
    plain = measure(labels, replace(fleet, parameters=expert()))
    assert mean_and_error(found.held_out)[0] < mean_and_error(plain.nll)[0]


def drawn(told: Field, count: int) -> list[Label]:
    """Labels drawn from what the search itself believes, under its own numbers."""
    from catalog.resolve.evidence import gather
    from catalog.resolve.posterior import posterior

    draw = np.random.default_rng(1)
    said = [
        (cue("body", body), cue("port_place", place), *((cue("name", name),) if name else ()))
        for body in ("pickup", "suv", "van", "hatchback")
        for place in ("left|rear_quarter|", "right|front_quarter|")
        for name in ("", "mirrin", "ostrel", "zorbelak")
    ]
    codes = told.tables.meta["codes"]
    made = []
    for at in draw.integers(0, len(said), count):
        found = posterior(gather(said[at], told.tables, told.parameters), told)
        place = draw.choice(len(codes) + 1, p=np.append(found.records, found.unlisted))
        made.append(Label(said[at], "" if place == len(codes) else codes[place]))
    return made


def test_one_label_is_too_few_to_fit_to() -> None:
    with pytest.raises(ValueError, match="one description"):
        fitted(LABELS[:1], field(*FLEET))


def test_words_are_counted_with_their_bounds() -> None:
    rates = {rate.word: rate for rate in word_rates([(0.7, True), (0.8, False), (0.99, True), (0.01, False)])}
    assert [rates["likely"].shown, rates["likely"].right] == [2, 1]
    assert rates["about even"] == WordRate("about even", 0, 0, 0.0, 1.0)
    assert promised("likely") == (0.65, 0.85)
    assert promised("nearly sure") == (0.95, 1.0)
    assert promised("remote") == (0.0, 0.075)
    assert holds(rates["likely"]) is True
    assert holds(rates["about even"]) is None
    assert holds(word_rates([(0.9, False)] * 40)[1]) is False


def test_adjacent_violators_are_pooled() -> None:
    assert list(isotonic([0, 1, 0, 1, 1])) == [0, 0.5, 0.5, 1, 1]
    assert list(isotonic([1, 0])) == [0.5, 0.5]
    assert list(isotonic([])) == []


def test_the_band_holds_what_is_calibrated_and_not_what_is_sure_of_itself() -> None:
    draw = np.random.default_rng(2)
    given = draw.random(400)
    honest = reliability([(float(p), bool(draw.random() < p)) for p in given])
    inside = (honest.seen >= honest.low - 1e-9) & (honest.seen <= honest.high + 1e-9)
    assert inside.mean() > 0.8
    boastful = reliability([(float(p), bool(draw.random() < p / 2)) for p in given])
    assert (boastful.seen < boastful.low).mean() > 0.5
    assert len(reliability([]).given) == 0


def test_equal_probabilities_are_one_point_whatever_their_order() -> None:
    firsts = [(0.5, True), (0.5, False), (0.2, False), (0.2, False)]
    assert reliability(firsts).seen == pytest.approx(reliability(firsts[::-1]).seen)
    assert list(reliability(firsts).shown) == [2, 2]
    assert list(reliability(firsts).seen) == [0, 0.5]
