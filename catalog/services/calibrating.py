"""Keeping the calibration up: checked on each edition beside its publication, so that readers wait for nothing."""

import json
import logging
from collections.abc import Sequence
from datetime import UTC, datetime

from catalog.compiled import Compiled
from catalog.compiled.files import locked, private_folder
from catalog.resolve.calibration.checking import Of, check
from catalog.resolve.calibration.labels import Label, simulated_labels
from catalog.resolve.calibration.record import FIELD, Calibration, Check, calibration_from
from catalog.resolve.field import Field
from catalog.resolve.parameters import expert
from catalog.resolve.rows import Row, unpacked
from catalog.services.calibration_kept import Known, is_current, shipped_fit
from catalog.services.house import House
from catalog.services.outcomes import labels_of
from catalog.store.engine import read
from catalog.store.outcomes import newest_calibration

_log = logging.getLogger(__name__)


def today() -> str:
    """The UTC date."""
    return f"{datetime.now(UTC):%Y-%m-%d}"


def bring_calibration(house: House) -> None:
    """Use the newest fit to outcomes that the database has. Raises Unavailable."""
    with read(house.engine) as conn:
        newest = newest_calibration(conn)
    if newest is None:
        return
    fit = calibration_from(json.loads(newest[1]))
    if fit not in house.calibrations.known(house.shelf.current()).fits:
        house.calibrations.keep_field(fit)


def check_current(house: House) -> bool:
    """Check on the current edition what was not checked by this program; whether anything was.

    A fit to simulations meets some 300 simulated descriptions of the edition, the same each time; a fit to outcomes
    meets the outcomes. Raises Unavailable where nothing is compiled, or the database that holds them is away.
    """
    compiled = house.shelf.current()
    if not _unchecked(house.calibrations.known(compiled), compiled):
        return False
    private_folder(house.calibrations.folder)
    with locked(house.calibrations.folder / "LOCK"):
        house.calibrations.forget()
        known = house.calibrations.known(compiled)
        missing = _unchecked(known, compiled)  # another process may have been first
        if not missing:
            return False
        made = [_checked(house, compiled, fit) for fit in missing]
        kept = [one for one in known.checks if is_current(one) and one.state not in {fit.state for fit in made}]
        house.calibrations.keep_checks(compiled, (*made, *kept))
    for one in made:
        if not one.carried:
            _log.warning("The %s calibration does not hold on edition %d", one.state, one.edition)
    return True


def _unchecked(known: Known, compiled: Compiled) -> list[Calibration]:
    """The fits that may count and were not checked by this program on this edition."""
    fits = [shipped_fit(), *(fit for fit in known.fits if fit.state == FIELD and is_current(fit))]
    done = {(one.state, one.temperature, one.bias) for one in known.checks if is_current(one)}
    if not compiled.tables.size:
        return []
    return [fit for fit in fits if (fit.state, fit.temperature, fit.bias) not in done]


def _checked(house: House, compiled: Compiled, fit: Calibration) -> Check:
    field = Field(compiled.tables, expert(), house.settings.unlisted_rate)
    labels = labels_of(house) if fit.state == FIELD else _simulated(compiled, field)
    return check(fit, labels, field, Of(compiled.number, compiled.hash, today()))


def _simulated(compiled: Compiled, field: Field) -> Sequence[Label]:
    def row(code: str) -> Row:
        return unpacked(compiled.row_bytes(code))

    return simulated_labels(row, field.tables, field.unlisted_rate)
