"""Pooled adjacent violators against scikit-learn's isotonic regression, exact bounds against SciPy's (1e-9)."""

import numpy as np
import pytest
from scipy.stats import binomtest
from sklearn.isotonic import IsotonicRegression

from catalog.resolve.calibration.bounds import exact_bounds
from catalog.resolve.calibration.isotonic import isotonic, reliability


@pytest.mark.parametrize(("times", "of"), [(0, 1), (0, 12), (1, 1), (3, 40), (40, 40), (981, 1000), (262, 1360)])
@pytest.mark.parametrize("level", [0.9, 0.95])
def test_exact_bounds_are_scipys(times: int, of: int, level: float) -> None:
    theirs = binomtest(times, of).proportion_ci(level, method="exact")
    assert exact_bounds(times, of, level) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_pooling_is_scikit_learns(seed: int) -> None:
    draw = np.random.default_rng(seed)
    values = draw.normal(size=200) + np.linspace(0, 2, 200)
    assert isotonic(values) == pytest.approx(IsotonicRegression().fit_transform(np.arange(200), values), abs=1e-9)


@pytest.mark.parametrize("decimals", [1, 2, 9])
def test_the_curve_is_scikit_learns_also_with_ties(decimals: int) -> None:
    draw = np.random.default_rng(decimals)
    given = draw.random(300).round(decimals)
    right = draw.random(300) < given**2
    ours = reliability([(float(p), bool(r)) for p, r in zip(given, right, strict=True)])
    theirs = IsotonicRegression(y_min=0, y_max=1).fit(given, right.astype(float)).predict(ours.given)
    assert ours.seen == pytest.approx(theirs, abs=1e-9)
