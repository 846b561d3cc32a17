"""Fitting the confidence to confirmed outcomes, and what is missing for it."""

import json
from dataclasses import dataclass, replace

from catalog.errors import BadInput, Conflict, Unavailable
from catalog.resolve.calibration.checking import applied
from catalog.resolve.calibration.fitting import fitted
from catalog.resolve.calibration.keys import Key, key_of
from catalog.resolve.calibration.labels import labels_hash
from catalog.resolve.calibration.measure import mean_and_error, measure
from catalog.resolve.calibration.record import FIELD, Calibration, calibration_data
from catalog.resolve.calibration.words import word_rates
from catalog.services.calibrating import check_current, today
from catalog.services.calibration_kept import Known
from catalog.services.clock import now_us
from catalog.services.compiling import edition_view
from catalog.services.house import House, field_of
from catalog.services.outcomes import NEEDED, Collected, collected, labels_of
from catalog.services.views import EditionView
from catalog.store.engine import write
from catalog.store.outcomes import add_calibration


@dataclass(frozen=True, slots=True)
class CalibrationView:
    """What the steward is shown. now: the key of this program (labels unused). outcomes: None while the database that
    holds them is away."""

    edition: EditionView
    known: Known
    now: Key
    outcomes: Collected | None


@dataclass(frozen=True, slots=True)
class FitView:
    """A fit that was stored. before: mean surprise of the numbers that counted till then, on the same outcomes, in
    nats; gained: how much less the fit's is where it was not fitted, with its standard error."""

    calibration: Calibration
    before: float
    gained: float
    gained_se: float


def calibration_view(house: House) -> CalibrationView:
    """The calibration that counts and what it rests on. Raises Unavailable where nothing is compiled."""
    compiled = house.shelf.current()
    try:
        outcomes = collected(house)
    except Unavailable:
        outcomes = None
    return CalibrationView(edition_view(compiled), house.calibrations.known(compiled), key_of(""), outcomes)


def fit_outcomes(house: House) -> FitView:
    """Fit temperature and bias to confirmed outcomes, store the fit and use it at once.

    Raises BadInput where there are fewer than are needed, Conflict where the fit would be no better than what counts
    now by held-out surprise: more than two standard errors worse.
    """
    labels = labels_of(house)
    settled = sum(not label.denied for label in labels)
    if settled < NEEDED:
        raise BadInput(
            f"{settled} confirmed outcomes were read by this version; a fit needs {NEEDED}.",
            cure=f"Wait for {NEEDED - settled} more. Until then the confidence is what chockbook calibration says.",
        )
    compiled = house.shelf.current()
    field = field_of(house, compiled)
    found = fitted(labels, field)
    before = measure(labels, field)
    gained, gained_se = mean_and_error(before.nll - found.held_out)
    if gained < -2 * gained_se:
        raise Conflict(
            f"The fit is worse than what counts now by {-gained:.3f} nats (standard error {gained_se:.3f}), "
            "on outcomes it was not fitted to.",
            cure="Keep what counts now, and fit again when there are more outcomes.",
        )
    nll, error = mean_and_error(found.held_out)
    fit = Calibration(
        key=key_of(labels_hash(labels)),
        state=FIELD,
        temperature=found.temperature,
        bias=found.bias,
        n=settled,
        nll=nll,
        nll_se=error,
        words=(),
        made_on=today(),
    )
    words = word_rates(measure(labels, replace(field, parameters=applied(fit))).rows)
    made = replace(fit, words=words)
    with write(house.engine) as conn:
        add_calibration(conn, json.dumps(calibration_data(made), sort_keys=True).encode(), now_us())
    house.calibrations.keep_field(made)
    check_current(house)
    return FitView(made, mean_and_error(before.nll)[0], gained, gained_se)
