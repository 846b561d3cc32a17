"""Fit the search's temperature and its bias of vehicles not listed to simulated raw text, and write them down.

    python -m tests.eval.search_calibration

Fitted by mean negative log likelihood on descriptions of vehicles that `tests.eval.search` does not
test with: raw text of the usual witnesses, of such who err together, and of vehicles drawn evenly, in
equal parts, for nobody knows which of them calls are like. The file is for one set of expert numbers,
named by its hash: fit again when they change. When only the reader changed, each edition's check
decides whether the fit is carried on.
"""

import json
import math
from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import catalog.resolve.parameters
from catalog.resolve.calibration.keys import reader_hash
from catalog.resolve.calibration.labels import Label, labels_hash
from catalog.resolve.calibration.measure import mean_and_error, measure
from catalog.resolve.calibration.words import word_rates
from catalog.resolve.field import Field
from catalog.resolve.parameters import expert
from catalog.resolve.simulate import CORRELATED
from tests.eval.search_fit import fitted, outcome, own_fit, paired
from tests.eval.search_ground import KINDS, RATE, Kind, labels_of, simulation, targets
from tests.eval.search_systems import ours

FILE = Path(catalog.resolve.parameters.__file__).parent / "simulated.json"
# Of each of these kinds; none is what `tests.eval.search` tests with.
COUNT = 1000
MIX = (
    Kind("calibration, usual", raw=True),
    Kind("calibration, correlated", CORRELATED, raw=True),
    Kind("calibration, any vehicle alike", uniform=True, raw=True),
)
HELD = 2000


def calibrate() -> None:
    """Write the calibration, and print what it gains where it was not fitted."""
    simulated = simulation(2000)
    ground, numbers = simulated.ground, expert()
    queries = [query for kind in MIX for query in simulated.queries(kind, COUNT, calibration=True)]
    found = fitted(ours(ground, queries), targets(queries), ground.prior, free_prior=False)
    temperature, bias = round(1 / found.scale, 2), round(found.constant - math.log(RATE), 2)
    fit = replace(numbers, temperature=temperature, unlisted_bias=bias)
    print(f"T = {temperature}, bias of vehicles not listed {bias:+}")
    for name in ("A in law", "B correlated", "I raw text"):
        held = simulated.queries(KINDS[name], HELD)
        scores, places = ours(ground, held), targets(held)
        first, second = (outcome(scores, places, ground.prior, own_fit(each)).nll for each in (numbers, fit))
        mean, low, high = paired(first - second, [query.family for query in held])
        nll = f"{first.mean():.3f} -> {second.mean():.3f}"
        print(f"{name}, held out: NLL {nll}, gained {mean:.3f} ({low:.3f} to {high:.3f})")
    last = _measured(labels_of(held, ground.tables), replace(ground.field, parameters=fit))
    made = {
        "comment": f"Fitted to {len(queries)} simulated descriptions by python -m tests.eval.search_calibration.",
        "expert": numbers.hash,
        "version": numbers.version,
        "origin": "simulated",
        "temperature": temperature,
        "unlisted_bias": bias,
        "reader": reader_hash(),
        "labels": labels_hash(labels_of(queries, ground.tables)),
        "made_on": f"{datetime.now(UTC):%Y-%m-%d}",
        **last,
    }
    FILE.write_text(json.dumps(made, indent=2) + "\n", encoding="utf-8")


def _measured(held: Sequence[Label], field: Field) -> dict[str, Any]:
    """What the fit is worth on raw text it was not fitted to."""
    found = measure(held, field)
    nll, error = mean_and_error(found.nll)
    words = [asdict(rate) for rate in word_rates(found.rows)]
    return {"n": len(held), "nll": round(nll, 4), "nll_se": round(error, 4), "words": words}


if __name__ == "__main__":
    calibrate()
