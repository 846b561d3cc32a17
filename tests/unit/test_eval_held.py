"""A known miss is held, a new one or a worse one fails the run."""

from typing import Any

import pytest

from tests.eval.held import faults


def result(value: float | None, *, met: bool = False, target: float = 0.95) -> dict[str, Any]:
    return {"evaluation": "some", "gates": [{"name": "f1", "value": value, "target": target, "met": met}]}


@pytest.mark.parametrize(
    ("measured", "known", "fault"),
    [
        (result(0.96, met=True), {}, ""),
        (result(0.80), {"f1": 0.80}, ""),
        (result(0.85), {"f1": 0.80}, ""),
        (result(0.79), {"f1": 0.80}, "worse than the 0.8"),
        (result(None), {"f1": 0.80}, "worse"),
        (result(0.80), {}, "not in held.json"),
        (result(0.96, met=True), {"f1": 0.80}, "take it out"),
        (result(3, target=0), {"f1": 2}, "worse than the 2"),
        (result(1, target=0), {"f1": 2}, ""),
    ],
)
def test_only_a_known_miss_no_worse_than_before_is_let_through(
    measured: dict[str, Any], known: dict[str, float], fault: str
) -> None:
    found = faults(measured, known)
    assert bool(found) == bool(fault)
    assert fault in "".join(found)
