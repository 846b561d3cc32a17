"""The convention of every evaluation and benchmark: gates, a table, JSON, an exit status.

`python -m tests.eval.NAME [--json FILE]` prints tables a person reads, then its gates; with
`--json` it writes {"evaluation": NAME, "gates": [{"name", "value", "target", "met"}]} and its
status is 1 when a gate is missed. A gate without data is missed, its value null. Seeds are fixed,
so a run can be repeated.
"""

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Gate:
    """A measured value against its target: at least it, or (most=True) at most it."""

    name: str
    value: float
    target: float
    most: bool = False

    @property
    def met(self) -> bool:
        """A value that is no number never meets a gate."""
        if math.isnan(self.value):
            return False
        return self.value <= self.target if self.most else self.value >= self.target


def report(name: str, gates: Sequence[Gate], out: Path | None = None) -> int:
    """Print the gates, write them where asked, and return the exit status."""
    width = max((len(gate.name) for gate in gates), default=0)
    for gate in gates:
        sign, state = ("<=" if gate.most else ">="), ("met" if gate.met else "MISSED")
        value = " no data" if math.isnan(gate.value) else f"{gate.value:8.4f}"
        print(f"{gate.name:{width}}  {value}  {sign} {gate.target:.4f}  {state}")
    if out is not None:
        rows = [
            {
                "name": gate.name,
                "value": None if math.isnan(gate.value) else gate.value,
                "target": gate.target,
                "met": gate.met,
            }
            for gate in gates
        ]
        out.write_text(json.dumps({"evaluation": name, "gates": rows}, indent=2) + "\n", encoding="utf-8")
    return 0 if all(gate.met for gate in gates) else 1
