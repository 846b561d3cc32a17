"""What the test run asks of an evaluation: each gate met, or no worse than a miss that is known and written down.

    python -m tests.eval.held RESULT.json ...

RESULT.json is what `python -m tests.eval.NAME --json` wrote. `held.json` names the gates that are known to be missed,
{NAME: {gate: value reached}}; it only ever moves towards the target, and a gate that is met again leaves it. Status 1
when a gate is missed that is not in it, is worse than what is in it, or is in it and met.
"""

import json
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

HELD = Path(__file__).with_name("held.json")


def main(argv: Sequence[str] | None = None) -> int:
    known: dict[str, dict[str, float]] = json.loads(HELD.read_text(encoding="utf-8"))
    said: list[str] = []
    for name in sys.argv[1:] if argv is None else argv:
        result = json.loads(Path(name).read_text(encoding="utf-8"))
        said += faults(result, known.get(result["evaluation"], {}))
    print("\n".join(said) or "every gate is met, or missed by no more than is written down")
    return 1 if said else 0


def faults(result: Mapping[str, Any], known: Mapping[str, float]) -> list[str]:
    """What is wrong with the gates of one result, a sentence each. known: the misses written down."""
    made = []
    for gate in result["gates"]:
        name, value, target = gate["name"], gate["value"], gate["target"]
        if gate["met"]:
            if name in known:
                made.append(f"{result['evaluation']} {name}: met; take it out of {HELD.name}")
        elif name not in known:
            made.append(f"{result['evaluation']} {name}: {value} misses {target} and is not in {HELD.name}")
        elif value is None or abs(value - target) > abs(known[name] - target):
            made.append(f"{result['evaluation']} {name}: {value} is worse than the {known[name]} it is held to")
    return made


if __name__ == "__main__":
    raise SystemExit(main())
