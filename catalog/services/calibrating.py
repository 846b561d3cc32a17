"""Checking the calibration on each edition, beside its publication: readers wait for nothing.

Confirmed outcomes are weighed anew by `fitting_outcomes`.
"""

import logging
from datetime import UTC, datetime

from catalog.compiled import Compiled
from catalog.compiled.files import locked, private_folder
from catalog.resolve.calibration.checking import Of, check
from catalog.resolve.calibration.keys import key_of
from catalog.resolve.calibration.labels import simulated_labels
from catalog.resolve.field import Field
from catalog.resolve.parameters import expert
from catalog.resolve.rows import Row, unpacked
from catalog.services.calibration_kept import shipped_fit
from catalog.services.house import House

_log = logging.getLogger(__name__)


def today() -> str:
    """The UTC date."""
    return f"{datetime.now(UTC):%Y-%m-%d}"


def is_checked(house: House, compiled: Compiled) -> bool:
    """Whether this program has checked the calibration on the edition."""
    known = house.calibrations.known(compiled)
    fits = [fit for fit in (shipped_fit(),) if compiled.tables.size]
    done = {(one.state, one.temperature, one.bias) for one in known.checks if one.key.same_engine(key_of(""))}
    return all((fit.state, fit.temperature, fit.bias) in done for fit in fits)


def check_current(house: House) -> bool:
    """Check the calibration on the current edition where that was not done; whether it was done now.

    Some 300 simulated descriptions, the same for the same edition. Raises Unavailable where nothing is compiled.
    """
    compiled = house.shelf.current()
    if is_checked(house, compiled):
        return False
    private_folder(house.calibrations.folder)
    with locked(house.calibrations.folder / "LOCK"):
        house.calibrations.forget()
        if is_checked(house, compiled):  # another process did
            return False
        of = Of(compiled.number, compiled.hash, today())
        field = Field(compiled.tables, expert(), house.settings.unlisted_rate)

        def row(code: str) -> Row:
            return unpacked(compiled.row_bytes(code))

        labels = simulated_labels(row, compiled.tables, house.settings.unlisted_rate)
        made = check(shipped_fit(), labels, field, of)
        house.calibrations.keep_checks(compiled, (made,))
    if not made.carried:
        _log.warning("The %s calibration does not hold on edition %d: expert numbers count", made.state, made.edition)
    return True
