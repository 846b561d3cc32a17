"""Measures of the search's evaluation against scikit-learn (1e-9)."""

import numpy as np
import pytest
from sklearn.metrics import log_loss, roc_auc_score

from tests.eval.search_fit import CAP, Fit, Scores, auroc, ece, outcome
from tests.eval.search_ground import RATE


def test_area_under_the_curve_is_scikit_learns() -> None:
    draw = np.random.default_rng(3)
    positive = draw.random(300) < 0.2
    scores = (draw.random(300) + 0.3 * positive).round(1).astype(np.float64)  # many ties
    assert auroc(scores, positive) == pytest.approx(roc_auc_score(positive, scores), abs=1e-9)


def test_probabilities_and_their_loss_are_scikit_learns() -> None:
    """Softmax by hand, capped, and its log loss."""
    draw = np.random.default_rng(4)
    prior = np.array([0.5, 0.3, 0.2])
    scores = Scores(draw.normal(size=(50, 3)).astype(np.float32), draw.normal(size=50))
    places = draw.integers(-1, 3, 50)
    fit = Fit(1.0, 0.7, -1.2)
    logits = np.column_stack((0.7 * scores.records + np.log((1 - RATE) * prior), 0.7 * scores.unlisted - 1.2))
    chances = np.exp(logits) / np.exp(logits).sum(axis=1, keepdims=True)
    chances = (1 - CAP) * chances + CAP * np.append((1 - RATE) * prior, RATE)
    found = outcome(scores, places, prior, fit)
    labels = np.where(places < 0, 3, places)
    theirs = log_loss(labels, chances / chances.sum(axis=1, keepdims=True), labels=[0, 1, 2, 3])
    assert found.nll.mean() == pytest.approx(theirs, abs=1e-5)  # scores are kept in single precision
    assert found.top == pytest.approx(chances.max(axis=1), abs=1e-5)


def test_ties_count_as_if_broken_at_random() -> None:
    scores = Scores(np.zeros((1, 4), dtype=np.float32), np.zeros(1))
    found = outcome(scores, np.array([2]), np.full(4, 0.25), Fit(1.0, 1.0, -9.0))
    assert (found.within[1][0], found.within[3][0], found.within[10][0]) == (0.25, 0.75, 1.0)
    assert found.right[0] == pytest.approx(0.25)


def test_error_of_the_perfectly_sure_and_always_wrong_is_one() -> None:
    assert ece(np.ones(60), np.zeros(60)) == 1.0
    assert ece(np.full(60, 0.5), np.tile([0.0, 1.0], 30)) == pytest.approx(0.0)
