"""A fully observed categorical case against scikit-learn's CategoricalNB (1e-9).

scikit-learn is fitted, not told: every record is a class, and its training rows are all
combinations of said values weighted by the product of our likelihoods, so that its own
estimates and its own posterior are what ours is held against.
"""

from itertools import product

import numpy as np
from sklearn.naive_bayes import CategoricalNB

from catalog.domain.facts import stated
from catalog.resolve.evidence import gather
from catalog.resolve.field import Field
from catalog.resolve.likelihood import signature_likelihoods, terms_of
from catalog.resolve.posterior import posterior
from tests.unit.resolve_cases import SRC, cue, parameters_with, record, tables

ATTRIBUTES = ("body", "selector", "front_face")
PATHS = {"body": "looks.body", "selector": "motion.selector", "front_face": "looks.front_face"}
TRUE = [
    ("pickup", "stalk", "slats"),
    ("suv", "dial", "closed_panel"),
    ("van", "lever", "open_grille"),
    ("pickup", "dial", "split"),
]
POPULARITY = [5.0, 1.0, 2.0, 2.0]


def test_posterior_equals_a_fitted_categorical_naive_bayes() -> None:
    numbers = parameters_with(temperature=1.0, cap=0.0, floor=0.0)
    fleet = [
        record("Ostrel", f"N{n}", facts={PATHS[a]: stated(v, SRC) for a, v in zip(ATTRIBUTES, row, strict=True)})
        for n, row in enumerate(TRUE)
    ]
    field = Field(tables(*fleet, popularity=POPULARITY), numbers, 0.12)
    terms = [terms_of(attribute) for attribute in ATTRIBUTES]
    likelihood = [
        np.array([[signature_likelihoods(a, [said], [[row[i]]], numbers)[0] for said in terms[i]] for row in TRUE])
        for i, a in enumerate(ATTRIBUTES)
    ]
    combinations = list(product(*(range(len(t)) for t in terms)))
    rows, classes, weights = [], [], []
    for label in range(len(TRUE)):
        for combination in combinations:
            rows.append(combination)
            classes.append(label)
            weights.append(float(np.prod([likelihood[i][label, said] for i, said in enumerate(combination)])))
    model = CategoricalNB(
        alpha=0.0, force_alpha=True, class_prior=field.tables.arrays["prior"], min_categories=[len(t) for t in terms]
    ).fit(np.array(rows), np.array(classes), sample_weight=np.array(weights))
    chosen = combinations[:: len(combinations) // 50]
    theirs = model.predict_proba(np.array(chosen))
    for combination, expected in zip(chosen, theirs, strict=True):
        said = tuple(cue(a, terms[i][combination[i]]) for i, a in enumerate(ATTRIBUTES))
        ours = posterior(gather(said, field.tables, numbers), field).records
        assert np.allclose(ours / ours.sum(), expected, rtol=0, atol=1e-9)
