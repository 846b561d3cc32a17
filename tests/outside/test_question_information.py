"""Information of a question against SciPy's entropy (which scikit-learn brings), 1e-12."""

import math

import numpy as np
import pytest
from scipy.stats import entropy as scipy_entropy

from catalog.domain.facts import Fact, State, stated
from catalog.resolve.evidence import gather
from catalog.resolve.posterior import posterior
from catalog.resolve.questions.name_outcomes import name_outcomes
from catalog.resolve.questions.outcomes import Outcomes, outcomes
from catalog.resolve.questions.standing import Standing, standing
from catalog.resolve.questions.table import expert_questions
from catalog.resolve.questions.worth import chances, information
from catalog.resolve.scorer import Vector
from tests.unit.fact_cases import drawn_record
from tests.unit.resolve_cases import FLEET, LEFT_REAR, SRC, cue, field, record

KNOWN = expert_questions()
LOOKS: dict[str, tuple[str, ...]] = {
    "size": ("small", "large"), "front_face": ("slats", "split", "closed_panel"), "front_lamps": ("strip", "single"),
    "rear_lamps": ("pixels", "strip", "pair_tall"), "roof": ("rack", "high"), "handles": ("flush", "hidden", "none"),
}  # fmt: skip


def _looks(number: int) -> dict[str, Fact]:
    """Everything that is asked about, in a few mixtures."""
    made = {f"looks.{key}": stated(values[number % len(values)], SRC) for key, values in LOOKS.items()}
    tailpipe = Fact(State.NOT_FITTED, src=(SRC,)) if number % 2 else stated(LEFT_REAR, SRC)
    return {**made, "looks.doors": stated(2 + number % 4, SRC), "looks.tailpipe": tailpipe}


WHERE = field(
    *FLEET,
    *(drawn_record(number) for number in range(20)),
    *(record("Ostrel", str(number), facts=_looks(number)) for number in range(9)),
)


def _asked(id_: str) -> tuple[Outcomes, Standing]:
    cues = (cue("name", "ostrel"),)
    result = posterior(gather(cues, WHERE.tables, WHERE.parameters), WHERE)
    stands = standing(result, WHERE, KNOWN)
    asked = KNOWN.by_id[id_]
    found = outcomes(asked, stands) if asked.options else name_outcomes(stands, KNOWN.names)
    assert found is not None
    return found, stands


def _whole(found: Outcomes, stands: Standing) -> tuple[Vector, Vector]:
    """P(vehicle, answer) of every record and of the unlisted one; the last answer is none of them."""
    rows = np.vstack((found.law[found.index], found.unlisted_law))
    rows = np.column_stack((rows, np.clip(1 - rows.sum(axis=1), 0, None)))
    shares = np.append(stands.shares, stands.unlisted)
    return rows * shares[:, None], shares


@pytest.mark.parametrize("id_", [question.id for question in KNOWN.questions])
def test_information_is_what_entropy_loses(id_: str) -> None:
    """H(vehicle) - sum P(answer) H(vehicle | answer), all by SciPy."""
    found, stands = _asked(id_)
    joint, shares = _whole(found, stands)
    heard = joint.sum(axis=0)
    some = heard > 0
    left = scipy_entropy(joint[:, some] / heard[some], base=2, axis=0)
    assert math.isclose(
        information([found], stands)[0], scipy_entropy(shares, base=2) - heard[some] @ left, abs_tol=1e-12
    )
    assert np.allclose(chances(found, stands), heard[:-1], atol=1e-15)
