"""The evaluation of reading keeps the convention of all evaluations: table, gates, JSON, status."""

import json
from pathlib import Path

import pytest

from tests.eval import reading
from tests.eval.gates import Gate, report


def test_own_set_meets_its_gates(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "gates.json"
    assert reading.main(["--json", str(out)]) == 0
    written = json.loads(out.read_text(encoding="utf-8"))
    assert all(set(gate) == {"name", "value", "target", "met"} and gate["met"] for gate in written["gates"])
    assert "held out" in capsys.readouterr().out


def test_a_set_that_is_read_wrongly_gives_status_one(tmp_path: Path) -> None:
    row = {"text": "white van", "driving_side": "left", "names": [], "cues": [["body", ["bus"], False]]}
    unseen = tmp_path / "unseen.jsonl"
    unseen.write_text(json.dumps(row) + "\n", encoding="utf-8")
    assert reading.main(["--set", str(unseen)]) == 1


@pytest.mark.parametrize(
    ("gate", "met"),
    [
        (Gate("enough", 0.9, 0.9), True),
        (Gate("too little", 0.89, 0.9), False),
        (Gate("little enough", 0.1, 0.2, most=True), True),
        (Gate("too much", 0.3, 0.2, most=True), False),
        (Gate("nothing measured", float("nan"), 0.2, most=True), False),
    ],
)
def test_gate(gate: Gate, met: bool) -> None:
    assert gate.met is met
    assert report("test", [gate]) == (0 if met else 1)
