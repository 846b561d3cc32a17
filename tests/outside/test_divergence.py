"""Entropy and Jensen-Shannon divergence against SciPy (which scikit-learn brings), 1e-12."""

import numpy as np
from scipy.spatial.distance import jensenshannon
from scipy.stats import entropy as scipy_entropy

from catalog.domain.facts import stated
from catalog.domain.vocabulary import BODY
from catalog.resolve.said import divergence, entropy, said_of
from tests.unit.resolve_cases import LEFT_REAR, RIGHT_FRONT, SRC, field, record


def test_entropy_is_scipys() -> None:
    rows = np.random.default_rng(3).dirichlet(np.full(12, 0.3), 200)
    rows[0] = np.eye(12)[4]
    assert np.allclose(entropy(rows), scipy_entropy(rows, base=2, axis=1), atol=1e-12)


def test_divergence_is_scipys_distance_squared() -> None:
    bodies = [record("Ostrel", body, facts={"looks.body": stated(body, SRC)}) for body in BODY.keys]
    fleet = field(
        *bodies, record(ports=[LEFT_REAR]), record(ports=[LEFT_REAR, RIGHT_FRONT]), record(propulsion="hybrid")
    )
    for attribute in ("body", "port_place"):
        rows = said_of(attribute, fleet.tables, fleet.parameters).rows
        for signature in range(len(rows)):
            ours = divergence(attribute, signature, fleet.tables, fleet.parameters)
            theirs = [jensenshannon(rows[signature], other, base=2) ** 2 for other in rows]
            assert np.allclose(ours, theirs, atol=1e-12)
