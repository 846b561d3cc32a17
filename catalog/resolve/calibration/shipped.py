"""The fit that ships with the product, as a calibration."""

from functools import cache

from catalog.resolve.calibration.record import SIMULATED, Calibration, calibration_from
from catalog.resolve.parameters import shipped_fit


@cache
def simulated_fit() -> Calibration:
    """Temperature and bias as fitted to simulated descriptions, whatever parameters are current."""
    fit = shipped_fit()
    key = {"reader": fit["reader"], "parameters": fit["expert"], "labels": fit["labels"]}
    plain = {name: fit[name] for name in ("temperature", "n", "nll", "nll_se", "words", "made_on")}
    return calibration_from({**plain, "key": key, "state": SIMULATED, "bias": fit["unlisted_bias"]})
